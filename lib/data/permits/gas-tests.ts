import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import { gasReadingReasons } from '@/lib/permit/gas-test'
import { mayTestAir } from '@/lib/permit/work'
import type { GasTestInput } from '@/lib/schemas/permit'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import { assertOnPermit, loadPermitContext, type PermitContext, refuseUnless } from './context'

export type GasTested = Readonly<{ permitId: string; against: readonly Reason[]; isHeld: boolean }>

const LONG_AGO = '1900-01-01'
const asDay = (day: string) => new Date(`${day}T00:00:00.000Z`)

function readingOf(input: GasTestInput, now: Date) {
  const { oxygenPct, lelPct, coPpm, h2sPpm, oxygenCause } = input
  return { takenAt: now, oxygenPct, lelPct, coPpm, h2sPpm, oxygenCause }
}

async function addTest(
  tx: Tx,
  context: PermitContext,
  input: GasTestInput,
  by: { personId: string; roleThen: string },
) {
  const { oxygenPct, lelPct, coPpm, h2sPpm, oxygenCause, instrumentId } = input
  await tx.gasTest.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId: context.facts.siteId,
      permitId: input.permitId,
      ...{ oxygenPct, lelPct, coPpm, h2sPpm, oxygenCause, instrumentId },
      // Of one on record these are the trigger's, whatever is sent.
      instrument: input.instrument ?? '',
      bumpTestedOn: asDay(input.bumpTestedOn ?? LONG_AGO),
      calibratedUntil: asDay(input.calibratedUntil ?? LONG_AGO),
      ...by,
    },
  })
}

/**
 * Keeps a gas test whatever it read: a bad reading is a fact, and the database holds an open permit
 * in the same breath. A drop within the limits is asked for its cause first; one out of limits is
 * kept at once, and asked when work is to go on.
 */
export async function recordGasTest(viewer: Viewer, input: GasTestInput): Promise<GasTested> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  return inTransaction(viewer, 'permit:gas-test', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:gas-test', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      refuseUnless(mayTestAir(context.facts))
      const against = gasReadingReasons(readingOf(input, context.now), context.duties)
      if (against.length > 0 && against.every((one) => one.code === 'gas_test_cause'))
        throw new AppError('PERMIT_REFUSED', { count: 1 }, against)
      await addTest(tx, context, input, { personId: viewer.personId, roleThen: role })
      const isHeld = (await loadPermitContext(tx, input.permitId)).facts.state === 'held'
      const reasons = against.map((reason) => ({ ...reason, params: { ...reason.params } }))
      return { permitId: input.permitId, against: reasons, isHeld }
    }),
  )
}
