import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { normalInterval } from '@/lib/calc/stats'
import type { CylinderStatus } from '@/lib/schemas/cylinder'
import type { CONDITIONS, Vessel } from '@/lib/schemas/cylinder-life'

export type Condition = 'sound' | (typeof CONDITIONS)[number]

export type Amount90 = Readonly<{
  kg: number
  low90Kg: number
  high90Kg: number
  /** Quantiles between them, for the teeth of a vessel. */
  p275Kg: number
  p725Kg: number
}>

/** Contents as the page shows them: never below nothing, never a bare number. */
export function amount90(contentsKg: number | null, contentsUKg: number): Amount90 | null {
  if (contentsKg === null) return null
  const { mean, low90, high90 } = normalInterval({
    mean: contentsKg,
    standardUncertainty: contentsUKg,
    min: 0,
  })
  const inner = normalQuantile(0.725, 0, 1) * contentsUKg
  return {
    kg: mean,
    low90Kg: low90,
    high90Kg: high90,
    p275Kg: Math.max(low90, mean - inner),
    p725Kg: mean + inner,
  }
}

export type CylinderRow = Readonly<{
  id: string
  serial: string
  gasId: string
  sizeName: string
  nominalKg: number
  status: CylinderStatus
  contents: Amount90 | null
  lastReadingAt: Date | null
  dueMonth: Date | null
  isPastDue: boolean
  areaName: string | null
  outfitNumber: string | null
  side: 'oxygen' | 'fuel' | null
  vessel: Vessel
  holds: number
  condition: Condition
}>

export const toVessel = (vessel: string) => vessel as Vessel // a CHECK holds the column to these
export const toCondition = (condition: string) => condition as Condition // as above
export const toStatus = (status: string) => status as CylinderStatus // as above
export const toSide = (side: string | null) => (side === 'oxygen' || side === 'fuel' ? side : null)

export const isPastDue = (dueMonth: Date | null, thisMonth: Date) =>
  dueMonth !== null && dueMonth < thisMonth
