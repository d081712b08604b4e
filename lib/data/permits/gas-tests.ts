import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import type { Reason } from '@/lib/errors'
import { gasReadingReasons } from '@/lib/permit/gas-test'
import { mayHold } from '@/lib/permit/work'
import type { GasTestInput } from '@/lib/schemas/permit'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import { assertOnPermit, loadPermitContext, type PermitContext } from './context'
import { addEvent } from './events'

export type GasTested = Readonly<{ permitId: string; against: readonly Reason[]; isHeld: boolean }>

const asDay = (day: string) => new Date(`${day}T00:00:00.000Z`)

function readingOf(input: GasTestInput, now: Date) {
  const { oxygenPct, lelPct, coPpm, h2sPpm } = input
  return { takenAt: now, oxygenPct, lelPct, coPpm, h2sPpm }
}

async function addTest(
  tx: Tx,
  context: PermitContext,
  input: GasTestInput,
  by: { personId: string; roleThen: string },
) {
  const { oxygenPct, lelPct, coPpm, h2sPpm, instrument } = input
  await tx.gasTest.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId: context.facts.siteId,
      permitId: input.permitId,
      ...{ oxygenPct, lelPct, coPpm, h2sPpm, instrument },
      bumpTestedOn: asDay(input.bumpTestedOn),
      calibratedUntil: asDay(input.calibratedUntil),
      ...by,
    },
  })
}

/**
 * Keeps a gas test whatever it read: a bad reading is a fact. Bad air under an open permit holds it
 * in the same breath.
 */
export async function recordGasTest(viewer: Viewer, input: GasTestInput): Promise<GasTested> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  return inTransaction(viewer, 'permit:gas-test', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:gas-test', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      await addTest(tx, context, input, { personId: viewer.personId, roleThen: role })
      const against = gasReadingReasons(readingOf(input, context.now), context.duties)
      const isHeld = against.length > 0 && mayHold(context.facts).ok
      if (isHeld)
        await addEvent(tx, { viewer, role, context }, 'held', {
          data: { reason: 'gas_test' },
          deviceAt: input.deviceAt,
        })
      const reasons = against.map((reason) => ({ ...reason, params: { ...reason.params } }))
      return { permitId: input.permitId, against: reasons, isHeld }
    }),
  )
}
