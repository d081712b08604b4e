import { describe, expect, test } from 'vitest'
import {
  checkFuelIndoors,
  checkManifold,
  controlAreaLimit,
  countedFt3,
  type GasKind,
  needsOperationalPermit,
} from '@/lib/rules/amounts'
import { isMet } from '@/lib/rules/finding'
import { requalification } from '@/lib/rules/requalification'
import { lensShade } from '@/lib/rules/shade'
import { type Barrier, checkSeparation, storageStatus } from '@/lib/rules/storage'
import {
  adrPoints,
  checkRide,
  materialsOfTrade,
  placards,
  type Ride,
  type TradeLoad,
} from '@/lib/rules/transport'
import { vectors } from './vectors'

// Published: test/vectors/rules/permit-decision-vectors.json (its README names the texts).

type Input = Record<string, unknown>
const num = (value: unknown) => (typeof value === 'number' ? value : 0)
const of = (kind: string) =>
  vectors
    .filter((one) => one.kind === kind)
    .map((one) => ({
      id: one.id,
      title: one.title,
      input: one.input as Input,
      expected: one.expected as unknown as Input,
    }))

function separationOf(input: Input) {
  const wall = input.barrier as Record<string, number | boolean> | null
  const barrier: Barrier | null = wall && {
    isNoncombustible: wall.noncombustible === true,
    ratingMin: num(wall.rating_min),
    heightFt: num(wall.height_ft),
    aboveFt: wall.above_ft === undefined ? null : num(wall.above_ft),
    besideFt: null,
  }
  return checkSeparation({ distanceFt: num(input.distance_ft), barrier })
}

/** The published answer to whichever question the vector asks of a store. */
function storeAnswer(input: Input, asked: string): unknown {
  if (asked === 'in_storage') {
    const ruleId =
      input.jurisdiction === 'us-osha-1910'
        ? 'osha1910-in-use-or-connected'
        : 'osha1926-in-storage-24h'
    const rest = {
      regulatorsFitted: input.regulators_fitted === true,
      expectedUseWithinHours:
        input.expected_use_within_h === undefined ? null : num(input.expected_use_within_h),
    }
    return storageStatus(rest).find((one) => one.ruleId === ruleId)?.isStored
  }
  const area = {
    gas: input.gas as GasKind,
    isSprinklered: input.sprinklered === true,
    isInGasCabinets: input.gas_cabinet === true,
  }
  const quantityFt3 = num(input.quantity_ft3)
  const answers: Record<string, () => unknown> = {
    separate_room_required: () =>
      !isMet(
        checkFuelIndoors({
          fuelGasStoredFt3: num(input.fuel_gas_stored_ft3),
          lpgLb: num(input.lpg_lb),
        }),
        'us-osha-1910',
      ),
    maq_ft3: () => controlAreaLimit(area).maqFt3,
    exceeds: () => quantityFt3 > (controlAreaLimit(area).maqFt3 ?? Infinity),
    operational_permit: () => needsOperationalPermit(area.gas, quantityFt3),
    counted_ft3: () =>
      countedFt3(
        (input.cylinders as { nominal_ft3: number; state: 'full' | 'empty'; count: number }[]).map(
          ({ nominal_ft3, ...one }) => ({ ...one, nominalFt3: nominal_ft3 }),
        ),
      ),
    allowed_indoors_in_general_room: () =>
      isMet(
        checkManifold({
          gas: input.manifold as 'fuel' | 'oxygen',
          connectedFt3: num(input.connected_ft3),
        }),
        'us-osha-1910',
      ),
  }
  return answers[asked]?.()
}

describe.each(of('storage'))('$id $title', ({ input, expected }) => {
  test.each(Object.entries(expected))('%s is as published', (asked, wanted) => {
    if (asked !== 'compliant') {
      expect(storeAnswer(input, asked)).toBe(wanted)
      return
    }
    const findings = separationOf(input)
    const osha = isMet(findings, 'us-osha-1910') && isMet(findings, 'us-osha-1926')
    const ifc = isMet(findings, 'us-ifc-2018')
    if (typeof wanted === 'boolean') expect([osha, ifc]).toEqual([wanted, wanted])
    else expect({ osha, ifc }).toMatchObject(wanted as object)
  })
})

function loadOf(input: Input): TradeLoad {
  return {
    carrier: input.carrier as TradeLoad['carrier'],
    purpose: input.purpose as TradeLoad['purpose'],
    cylindersGrossLb: input.cylinders_gross_lb as number[],
    otherGrossLb: num(input.other_mot_lb),
  }
}

function rideFindings(input: Input) {
  return checkRide({
    gas: input.gas as Ride['gas'],
    orientation: input.orientation as Ride['orientation'],
    isSecured: input.secured === true,
    isValveProtected: true,
  })
}

function transportAnswer(input: Input, asked: string): unknown {
  const bodies = (input.transport_vehicles ?? []) as { table2_gross_lb: number }[]
  const isLoad = input.cylinders_gross_lb !== undefined
  const answers: Record<string, () => unknown> = {
    mot: () => materialsOfTrade(loadOf(input)).isMaterialOfTrade,
    shipping_paper: () => materialsOfTrade(loadOf(input)).needsShippingPaper,
    aggregate_lb: () => materialsOfTrade(loadOf(input)).aggregateLb,
    // Materials of trade are left out of what a body is placarded for.
    placard: () =>
      isLoad
        ? placards([materialsOfTrade(loadOf(input)).isMaterialOfTrade ? 0 : Infinity])[0]
        : placards(bodies.map((body) => body.table2_gross_lb)),
    dot_ok: () => isMet(rideFindings(input), 'us-dot'),
    osha_1926_ok: () => isMet(rideFindings(input), 'us-osha-1926'),
    points: () => adrPoints(input.items as { category: 2 | 3; quantity: number }[]).points,
    small_load: () => adrPoints(input.items as { category: 2 | 3; quantity: number }[]).isSmallLoad,
  }
  return answers[asked]?.()
}

describe.each(of('transport'))('$id $title', ({ input, expected }) => {
  test.each(Object.entries(expected))('%s is as published', (asked, wanted) => {
    expect(transportAnswer(input, asked)).toEqual(wanted)
  })
})

describe.each(of('requalification'))('$id $title', ({ input, expected }) => {
  const answer = requalification({
    spec: input.spec as '3AA',
    manufactured: (input.manufactured as string | undefined) ?? null,
    last: (input.last as string | null | undefined) ?? null,
    isStarred: input.star === true,
    gas: (input.gas as string | undefined) ?? 'oxygen',
    ...(input.service === undefined ? {} : { service: input.service as 'noncorrosive_coated' }),
    condition: (input.condition as 'heat_damage' | undefined) ?? 'sound',
    filled: (input.filled as string | undefined) ?? null,
    today: input.today as string,
  })
  const named: Record<string, unknown> = {
    due: answer.due,
    may_fill: answer.mayFill,
    may_use_contents: answer.mayUseContents,
    star_void: answer.isStarVoid,
    shell_due: answer.shellDue,
    filler_latest: answer.fillerLatest,
    reason: answer.reasons.includes('condition') ? 'condition trigger' : null,
  }
  test.each(Object.entries(expected))('%s is as published', (asked, wanted) => {
    expect(named[asked]).toBe(wanted)
  })
})

describe.each(of('ppe'))('$id $title', ({ input, expected }) => {
  test('the lightest lens is as published', () => {
    const shade = lensShade({
      process: input.process as 'smaw',
      ...(input.thickness_in === undefined ? {} : { thicknessIn: num(input.thickness_in) }),
      ...(input.amps === undefined ? {} : { amps: num(input.amps) }),
    })
    expect(shade.minimum).toBe(expected.min_shade)
  })
})

test('all the vectors of stores, roads, tests and lenses are covered here', () => {
  expect(['storage', 'transport', 'requalification', 'ppe'].map((kind) => of(kind).length)).toEqual(
    [19, 10, 8, 7],
  )
})
