import { isAtMost, type StoreFinding } from './finding'
import { STORE_RULES, type StoreRuleId } from './store-catalogue'
import { materialsOfTrade, placards } from './transport'

export const TRIP_CHECKS = [
  'regulatorsOff',
  'valvesShut',
  'capped',
  'upright',
  'lashed',
  'ventilated',
  'apart',
  'driverTold',
] as const
export type TripCheck = (typeof TRIP_CHECKS)[number]

/**
 * The text behind each check. Where none of these names it (gas must not gather in a closed body,
 * oxygen stands apart from fuel) it is common practice and null.
 */
export const TRIP_CHECK_RULES: Readonly<Record<TripCheck, StoreRuleId | null>> = {
  regulatorsOff: 'osha1926-caps-in-place',
  valvesShut: 'dot-mot-conditions',
  capped: 'dot-valve-protection',
  upright: 'osha1926-upright-always',
  lashed: 'dot-load-cylinders',
  ventilated: null,
  apart: null,
  driverTold: 'dot-mot-conditions',
}

export const TRIP_BODIES = ['truck', 'trailer'] as const
export type TripBody = (typeof TRIP_BODIES)[number]

export interface TripLoad {
  carrier: 'private' | 'for_hire'
  purpose: 'supports_principal_business' | 'delivery_of_goods'
  cylinders: readonly Readonly<{ body: TripBody; grossLb: number }>[]
  /** Other hazardous materials of trade on the vehicle: paint, fuel cans. */
  otherGrossLb: number
  /** What each body may carry by its own papers; null where nobody said. */
  payloadLb?: Readonly<Record<TripBody, number | null>>
}

/** What a load above the limits needs instead of the exception. */
export interface TripPapers {
  shippingPaperNo: string | null
  /** By the record, on the day it leaves. */
  isDriverTrained: boolean
  arePlacardsShown: boolean
}

/** The texts behind what a load needs instead. */
export const TRIP_NEED_RULES = {
  shippingPaper: ['dot-shipping-paper'],
  trainedDriver: ['dot-hazmat-training'],
  placards: ['dot-placard-1001', 'cdl-hazmat-endorsement'],
} as const satisfies Record<string, readonly StoreRuleId[]>

export interface TripReason {
  code: string
  params: Readonly<Record<string, number | string>>
}

export interface TripVerdict {
  aggregateLb: number
  grossLb: Readonly<Record<TripBody, number>>
  isMaterialOfTrade: boolean
  findings: readonly StoreFinding[]
  /** Bodies that show placards. */
  placarded: readonly TripBody[]
  needs: readonly (keyof typeof TRIP_NEED_RULES)[]
}

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0)

/**
 * What a load is on the road: whether it rides as materials of trade, and what it needs where it does
 * not. Above the limits every cylinder counts, each body alone.
 *
 * @source 49 CFR 173.6, 172.504(c), 171.8; 172.200 and 172.704 for papers and training, from memory
 */
export function judgeTrip(load: TripLoad): TripVerdict {
  const { isMaterialOfTrade, aggregateLb, findings } = materialsOfTrade({
    carrier: load.carrier,
    purpose: load.purpose,
    cylindersGrossLb: load.cylinders.map((one) => one.grossLb),
    otherGrossLb: load.otherGrossLb,
  })
  const of = (body: TripBody) =>
    sumOf(load.cylinders.filter((one) => one.body === body).map((one) => one.grossLb))
  const grossLb = { truck: of('truck'), trailer: of('trailer') }
  const shown = isMaterialOfTrade ? [false, false] : placards([grossLb.truck, grossLb.trailer])
  const placarded = TRIP_BODIES.filter((_, i) => shown[i])
  return {
    aggregateLb,
    grossLb,
    isMaterialOfTrade,
    findings,
    placarded,
    needs: isMaterialOfTrade
      ? []
      : [
          'shippingPaper',
          'trainedDriver',
          ...(placarded.length > 0 ? (['placards'] as const) : []),
        ],
  }
}

const LOAD_CODES: Readonly<Record<string, string>> = {
  cylinder_gross: 'LOAD_CYLINDER_GROSS',
  vehicle_gross: 'LOAD_VEHICLE_GROSS',
  purpose: 'LOAD_PURPOSE',
}

const cite = (ruleId: StoreRuleId | null) =>
  ruleId === null ? 'common practice' : STORE_RULES[ruleId].citation

/** Every reason at once why this load does not leave, each with the paragraph it rests on. */
export function tripReasons(
  load: TripLoad,
  { checks, papers }: Readonly<{ checks: readonly string[]; papers: TripPapers }>,
): TripReason[] {
  const verdict = judgeTrip(load)
  const hasPaper = papers.shippingPaperNo !== null
  const empty = load.cylinders.length === 0 ? [{ code: 'LOAD_EMPTY', params: {} }] : []
  const open = TRIP_CHECKS.filter((check) => !checks.includes(check)).map((check) => ({
    code: 'LOAD_CHECK_OPEN',
    params: { check, citation: cite(TRIP_CHECK_RULES[check]) },
  }))
  const over =
    verdict.isMaterialOfTrade || hasPaper
      ? []
      : verdict.findings
          .filter((one) => one.verdict !== 'ok')
          .map(({ code, ruleId, params }) => ({
            code: LOAD_CODES[code] ?? code,
            params: { ...params, citation: cite(ruleId) },
          }))
  const bare =
    verdict.needs.includes('placards') && !papers.arePlacardsShown
      ? [
          {
            code: 'LOAD_PLACARDS',
            params: {
              grossLb: Math.max(verdict.grossLb.truck, verdict.grossLb.trailer),
              citation: cite('dot-placard-1001'),
            },
          },
        ]
      : []
  const untrained =
    hasPaper && verdict.needs.includes('trainedDriver') && !papers.isDriverTrained
      ? [{ code: 'LOAD_DRIVER_UNTRAINED', params: { citation: cite('dot-hazmat-training') } }]
      : []
  // Other materials ride on the truck as far as anybody said.
  const onBody = {
    truck: verdict.grossLb.truck + load.otherGrossLb,
    trailer: verdict.grossLb.trailer,
  }
  const heavy = TRIP_BODIES.flatMap((body) => {
    const mostLb = load.payloadLb?.[body] ?? null
    const grossLb = onBody[body]
    return mostLb === null || isAtMost(grossLb, mostLb)
      ? []
      : [{ code: 'LOAD_PAYLOAD', params: { body, grossLb, mostLb } }]
  })
  return [...empty, ...open, ...over, ...untrained, ...bare, ...heavy]
}
