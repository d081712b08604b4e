import { dot } from './reconcile-arrays'
import type { ResidualSystem } from './reconcile-types'

/** A sparse column: what one unit of a cause adds to some of the balances. */
export type Signature = readonly { balance: number; effect: number }[]

/** Entries up to which a form is put together from single entries of the inverse. */
const FEW_ENTRIES = 32

/**
 * kᵀ S⁻¹ k for a sparse column k: by entries where a few balances are touched, else by one solution.
 *
 * @param system residuals with the inverse of their covariance
 * @param column places counted from nought within the system; a place may stand twice
 */
export function quadraticForm(system: ResidualSystem, column: Signature): number {
  if (column.length <= FEW_ENTRIES) {
    let sum = 0
    for (const a of column)
      for (const b of column) sum += a.effect * b.effect * system.inverse(a.balance, b.balance)
    if (!Number.isNaN(sum)) return sum
  }
  const full = fullColumn(system.size, column)
  return dot(full, system.solve(full))
}

/** A sparse column written out. */
export function fullColumn(size: number, column: Signature): Float64Array {
  const full = new Float64Array(size)
  for (const { balance, effect } of column) full[balance] = (full[balance] as number) + effect
  return full
}

/** Sum of products of a sparse column with a full one. */
export function sparseDot(column: Signature, full: ArrayLike<number>): number {
  return column.reduce((sum, { balance, effect }) => sum + effect * (full[balance] as number), 0)
}
