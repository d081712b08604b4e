// How much gas may be connected to one manifold inside a building.
// Source: oxygen over 200 psig, 6,000 ft³, 50 ft apart or behind a barrier 5 ft high of half an hour: 29 CFR
// 1910.253(c)(2)(iii)-(iv) and WAC 296-307-48025, its state twin (read). Fuel gas 3,000 ft³ or 300 lb of LP-gas: 29 CFR
// 1910.253(c)(1)(ii)-(iii) (read in a state adoption). Low-pressure oxygen 12,000 ft³: 29 CFR 1910.253(c)(3), from
// memory. Bulk-oxygen standard above 13,000 ft³ connected: WAC 296-307-48025 (read).
import type { Provenance } from '../source'

export type ManifoldLimitCode =
  | 'oxygenManifold6000'
  | 'lowPressureOxygenManifold12000'
  | 'bulkOxygen13000'
  | 'fuelManifold3000'
  | 'lpgManifold300'

type Limit = Readonly<{
  max: number
  unit: 'ft3' | 'lb'
  /** Only inside a building; else everywhere. */
  indoorsOnly: boolean
  citation: string
  provenance: Provenance
}>

export const MANIFOLD_LIMITS: Readonly<Record<ManifoldLimitCode, Limit>> = {
  oxygenManifold6000: {
    max: 6000,
    unit: 'ft3',
    indoorsOnly: true,
    citation: '29 CFR 1910.253(c)(2)(iii)-(iv)',
    provenance: 'read',
  },
  lowPressureOxygenManifold12000: {
    max: 12_000,
    unit: 'ft3',
    indoorsOnly: true,
    citation: '29 CFR 1910.253(c)(3)',
    provenance: 'from memory',
  },
  bulkOxygen13000: {
    max: 13_000,
    unit: 'ft3',
    indoorsOnly: false,
    citation: 'WAC 296-307-48025',
    provenance: 'read',
  },
  fuelManifold3000: {
    max: 3000,
    unit: 'ft3',
    indoorsOnly: true,
    citation: '29 CFR 1910.253(c)(1)(ii)-(iii)',
    provenance: 'read',
  },
  lpgManifold300: {
    max: 300,
    unit: 'lb',
    indoorsOnly: true,
    citation: '29 CFR 1910.253(c)(1)(ii)-(iii)',
    provenance: 'read',
  },
}
