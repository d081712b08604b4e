'use client'

import type { FieldUnit } from '@/app/_components/form/typed-number'
import { usePrefs } from '@/app/_components/live/prefs'
import type { MeasureKind } from '@/lib/schemas/cut-shapes'

const unit = (code: FieldUnit['unit'], label: string = code): FieldUnit => ({ unit: code, label })
const [IN, FT, MM, M] = [unit('in'), unit('ft'), unit('mm'), unit('m')]
const [FT2, M2] = [unit('ft2', 'ft²'), unit('m2', 'm²')]
const [LB, KG] = [unit('lb'), unit('kg')]
const [FT3_H, M3_H] = [unit('ft3/h', 'ft³/h'), unit('m3/h', 'm³/h')]
const [IN_MIN, MM_MIN] = [unit('in/min'), unit('mm/min')]
const [FT2_H, M2_H] = [unit('ft2/h', 'ft²/h'), unit('m2/h', 'm²/h')]

type Units = readonly [FieldUnit, ...FieldUnit[]]

const UNITS: Readonly<Record<'us' | 'si', Readonly<Record<MeasureKind, Units>>>> = {
  us: {
    small: [IN, MM],
    long: [FT, IN, M],
    area: [FT2, M2],
    mass: [LB, KG],
    flow: [FT3_H, M3_H],
    speed: [IN_MIN, MM_MIN],
    areaRate: [FT2_H, M2_H],
  },
  si: {
    small: [MM, IN],
    long: [M, MM, FT],
    area: [M2, FT2],
    mass: [KG, LB],
    flow: [M3_H, FT3_H],
    speed: [MM_MIN, IN_MIN],
    areaRate: [M2_H, FT2_H],
  },
}

/** Units of a box, the person's own first. */
export function useBoxUnits(): Readonly<Record<MeasureKind, Units>> {
  return UNITS[usePrefs().units]
}
