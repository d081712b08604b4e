import { convert } from '@/lib/calc/units'
import { namedUuid } from '../ids'
import type { Chance } from '../random'
import { type SizeId, sizeOf } from '../reference'
import { addDays, localDay } from '../zones'
import { supplierOf } from './suppliers'
import type { Bottle } from './world'

const FLEET: readonly Readonly<{ size: SizeId; count: number; prefix: string; first: number }>[] = [
  { size: 'oxygen-244', count: 92, prefix: 'OX', first: 20_388 },
  { size: 'oxygen-330', count: 20, prefix: 'OX', first: 33_012 },
  { size: 'oxygen-122', count: 10, prefix: 'OX', first: 12_204 },
  { size: 'acetylene-225', count: 30, prefix: 'AC', first: 11_835 },
  { size: 'acetylene-130', count: 14, prefix: 'AC', first: 13_401 },
  { size: 'propane-100', count: 14, prefix: 'PR', first: 10_056 },
]

/** Stamped where the size's own source gives no tare; invented, in the usual range. */
const TYPICAL_TARE_LB: Readonly<Record<SizeId, number>> = {
  'oxygen-244': 121,
  'oxygen-330': 145,
  'oxygen-122': 66,
  'acetylene-225': 232,
  'acetylene-130': 114,
  'propane-100': 71,
}
/** Hidden: how far a stamped tare is from the truth, one standard deviation. */
const TARE_ERROR_KG = 0.2

/** The company's rented cylinders, all at the fillers' before the first day. */
export function openBottles(startMs: number, nowMs: number, chance: Chance): Bottle[] {
  const startDay = localDay('America/New_York', startMs)
  const today = localDay('America/New_York', nowMs)
  return FLEET.flatMap(({ size, count, prefix, first }) =>
    Array.from({ length: count }, (_unused, i): Bottle => {
      const serial = `${prefix}-${first + i + Math.floor(i / 7) * 2}`
      const tareKg =
        Math.round(
          convert({ value: TYPICAL_TARE_LB[size] + chance.normal(0, 2.5), from: 'lb', to: 'kg' }) *
            10,
        ) / 10
      // Most are due years from now; one in twelve falls due within two months of today.
      const dueInDays = i % 12 === 5 ? chance.whole(20, 60) : chance.whole(150, 1500)
      return {
        id: namedUuid(`cylinder/${serial}`, startMs),
        serial,
        sizeId: size,
        gas: sizeOf(size).gas,
        supplier: supplierOf(size),
        tareKg,
        trueTareKg: tareKg + chance.normal(0, TARE_ERROR_KG),
        dueMonth: `${addDays(today, dueInDays).slice(0, 7)}-01`,
        gasKg: 0,
        site: null,
        rig: null,
        believed: 'empty',
        arrivedMs: startMs,
        backFrom: startDay,
      }
    }),
  )
}
