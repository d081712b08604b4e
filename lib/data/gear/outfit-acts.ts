import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { isFuelCode } from '@/lib/calc/gas-data'
import { leakTest, regulatorCreep } from '@/lib/calc/leak-test'
import { HOSE_BORE_CODES, HOSE_BORES } from '@/lib/calc/tables/hoses'
import { UNITS } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import type { HoldTestInput, RecordCheckInput, ServiceInput } from '@/lib/schemas/outfit'
import { db } from '../client'
import { once } from '../client-keys'
import type { Prisma } from '../generated/client'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'

type Fact = Readonly<{
  kind: string
  reason?: string | null
  data?: Prisma.InputJsonObject
}>

async function outfitOf(viewer: Viewer, outfitId: string) {
  const outfit = await db.outfit.findUnique({
    where: { id: outfitId },
    select: {
      siteId: true,
      fuelGasId: true,
      parts: {
        where: { removedAt: null, kind: { in: ['hose_oxygen', 'hose_fuel'] } },
        select: { kind: true, lengthM: true, boreM: true },
      },
    },
  })
  if (!outfit) throw new AppError('NOT_FOUND')
  return { ...outfit, role: roleThen(viewer, 'outfit:inspect', outfit.siteId) }
}

type Sent = Readonly<{ key: string; outfitId: string }>

async function record(
  viewer: Viewer,
  input: Sent,
  { act, fact }: Readonly<{ act: string; fact: (outfit: OutfitKnown) => Fact }>,
): Promise<{ id: string; verdict: string }> {
  const outfit = await outfitOf(viewer, input.outfitId)
  const { kind, reason = null, data = {} } = fact(outfit)
  return inTransaction(viewer, act, (tx) =>
    once(tx, viewer, { key: input.key, action: act, input }, async () => {
      const id = uuidv7()
      await tx.outfitEvent.create({
        select: { id: true },
        data: {
          ...{ id, outfitId: input.outfitId, siteId: outfit.siteId, kind, reason, data },
          personId: viewer.personId,
          roleThen: outfit.role,
        },
      })
      return { id, verdict: typeof data.verdict === 'string' ? data.verdict : '' }
    }),
  )
}

type OutfitKnown = Awaited<ReturnType<typeof outfitOf>>

const FACT_OF: Readonly<Record<RecordCheckInput['check'], Pick<Fact, 'kind' | 'data'>>> = {
  shift_inspection: { kind: 'inspected', data: { scope: 'shift' } },
  inspection: { kind: 'inspected', data: { scope: 'interval' } },
  arrestor_oxygen: { kind: 'arrestor_tested', data: { side: 'oxygen' } },
  arrestor_fuel: { kind: 'arrestor_tested', data: { side: 'fuel' } },
  soap_check: { kind: 'soap_checked', data: {} },
}

/** A look or a test whose answer is yes or no; a no takes the outfit out of service. */
export async function recordCheck(viewer: Viewer, input: RecordCheckInput) {
  const { kind, data } = FACT_OF[input.check]
  const verdict = input.isGood === 'yes' ? 'passed' : 'failed'
  return record(viewer, input, {
    act: 'outfit:check',
    fact: () => ({ kind, reason: input.reason, data: { ...data, verdict } }),
  })
}

/** The hoses of one side by the bore whose name they have; without measure a quarter inch is taken. */
function hosesOf({ parts }: OutfitKnown, side: 'oxygen' | 'fuel') {
  return parts
    .filter((part) => part.kind === `hose_${side}` && part.lengthM)
    .map(({ boreM, lengthM }) => {
      const boreIn = (boreM ?? HOSE_BORES.quarter.boreIn * UNITS.in.toBase) / UNITS.in.toBase
      const off = (code: (typeof HOSE_BORE_CODES)[number]) =>
        Math.abs(HOSE_BORES[code].boreIn - boreIn)
      const [bore] = HOSE_BORE_CODES.toSorted((a, b) => off(a) - off(b))
      return { bore: bore ?? HOSE_BORE_CODES[0], lengthM: lengthM ?? 0 }
    })
}

/** What the gauges said and what follows from it, by lib/calc; a test that cannot be judged is refused. */
function holdFact(outfit: OutfitKnown, input: HoldTestInput): Fact {
  const { test, side, startGaugePressureKpa, endGaugePressureKpa, resolutionKpa, elapsedS } = input
  const held = { startGaugePressureKpa, endGaugePressureKpa, resolutionKpa, elapsedS }
  const kept = {
    side,
    startKpa: startGaugePressureKpa,
    endKpa: endGaugePressureKpa,
    resolutionKpa,
    elapsedS,
  }
  if (test === 'creep') {
    const creep = regulatorCreep(held)
    if (!creep.ok) throw new AppError('TEST_UNCLEAR')
    const data = { ...kept, verdict: creep.verdict, riseKpa: creep.riseKpa.mean }
    return { kind: 'creep_tested', data }
  }
  const fuel = isFuelCode(outfit.fuelGasId) ? outfit.fuelGasId : 'acetylene'
  const gas = side === 'oxygen' ? ('oxygen' as const) : fuel
  const leak = leakTest({ gas, hoses: hosesOf(outfit, side), ...held })
  if (!leak.ok) throw new AppError('TEST_UNCLEAR')
  const { fallKpa, leakM3PerS, verdict } = leak
  const data = {
    ...kept,
    verdict,
    fallKpa: fallKpa.mean,
    fallUKpa: fallKpa.standardUncertainty,
    leakM3PerS: leakM3PerS.mean,
    smallestSeenM3PerS: leak.smallestSeenM3PerS,
  }
  return { kind: 'leak_tested', data }
}

/** A pressure held over minutes: leak of hoses and regulator, or creep of the regulator. */
export async function recordHoldTest(viewer: Viewer, input: HoldTestInput) {
  return record(viewer, input, {
    act: 'outfit:hold-test',
    fact: (outfit) => holdFact(outfit, input),
  })
}

/** Out with a reason, a flashback, or back: the database says whether all was tested since. */
export async function recordService(viewer: Viewer, input: ServiceInput) {
  return record(viewer, input, {
    act: 'outfit:service',
    fact: () => ({ kind: input.act, reason: input.reason }),
  })
}
