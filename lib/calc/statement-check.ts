import { type DatedCharge, type DatedTerms, rentByDay, type Stay } from './rent'

/** One line of a supplier's statement. Money in minor units; null where it says nothing. */
export type StatementRow = Readonly<{
  row: number
  serial: string
  days: number | null
  amountMinor: number
}>

export type StatementFault =
  | 'not_ours'
  | 'twice'
  | 'not_here'
  | 'days_differ'
  | 'amount_differs'
  | 'terms_unknown'

export type CheckedRow = Readonly<{
  row: number
  serial: string
  askedMinor: number
  /** By our own record and the agreement; null where the agreement is not known. */
  oursMinor: number | null
  oursDays: number
  askedDays: number | null
  /** What to dispute: asked less ours, never below nothing. */
  disputeMinor: number
  faults: readonly StatementFault[]
}>

export type StatementCheck = Readonly<{
  rows: readonly CheckedRow[]
  askedMinor: number
  oursMinor: number
  disputeMinor: number
  /** Cylinders that cost rent by our record and stand in no row: to be expected later. */
  unasked: readonly Readonly<{ serial: string; amountMinor: number }>[]
}>

type Known = Readonly<{ charges: readonly DatedCharge[]; hasTerms: boolean }>

function chargesOf(
  stays: readonly Stay[],
  termsOf: (sizeId: string) => readonly DatedTerms[],
  period: Readonly<{ fromDay: number; toDay: number }>,
): Map<string, Known> {
  const known = new Map<string, Known>()
  for (const stay of stays) {
    const before = known.get(stay.serial) ?? { charges: [], hasTerms: true }
    const charge = rentByDay(stay, termsOf(stay.sizeId), period)
    known.set(stay.serial, {
      charges: [...before.charges, charge],
      hasTerms: before.hasTerms && charge.unknownDays === 0,
    })
  }
  return known
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)

/**
 * A supplier's rental statement beside the record, row by row: serials that are not ours, that were
 * asked for twice, that stood nowhere of ours in the period, days and amounts that differ.
 *
 * @param check.termsOf the supplier's terms for a size, as they followed on each other
 * @param check.isOurs whether a serial was ever the company's
 * @param check.toleranceMinor a difference up to this is rounding
 * @returns every row with what is wrong in it and how much to dispute; money in minor units
 * @source arithmetic of the agreement's own terms; no outside source
 */
export function checkStatement(
  check: Readonly<{
    rows: readonly StatementRow[]
    stays: readonly Stay[]
    isOurs: (serial: string) => boolean
    termsOf: (sizeId: string) => readonly DatedTerms[]
    period: Readonly<{ fromDay: number; toDay: number }>
    toleranceMinor: number
  }>,
): StatementCheck {
  const known = chargesOf(check.stays, check.termsOf, check.period)
  const seen = new Set<string>()
  const rows = check.rows.map((asked): CheckedRow => {
    const isAgain = seen.has(asked.serial)
    seen.add(asked.serial)
    const found = known.get(asked.serial)
    const oursDays = isAgain ? 0 : sum(found?.charges.map((one) => one.days) ?? [])
    const ours = isAgain ? 0 : sum(found?.charges.map((one) => one.amountMinor) ?? [])
    const hasTerms = found?.hasTerms ?? true
    const isOurs = check.isOurs(asked.serial)
    const differs = Math.abs(asked.amountMinor - ours) > check.toleranceMinor
    const said: readonly (readonly [boolean, StatementFault])[] = [
      [!isOurs, 'not_ours'],
      [isAgain, 'twice'],
      [isOurs && !isAgain && oursDays === 0, 'not_here'],
      [oursDays > 0 && asked.days !== null && asked.days !== oursDays, 'days_differ'],
      [oursDays > 0 && hasTerms && differs, 'amount_differs'],
      [!hasTerms && !isAgain, 'terms_unknown'],
    ]
    const faults = said.flatMap(([is, fault]) => (is ? [fault] : []))
    const isDisputed = hasTerms || isAgain
    return {
      row: asked.row,
      serial: asked.serial,
      askedMinor: asked.amountMinor,
      oursMinor: hasTerms || isAgain ? ours : null,
      oursDays,
      askedDays: asked.days,
      disputeMinor: isDisputed && differs ? Math.max(0, asked.amountMinor - ours) : 0,
      faults,
    }
  })
  const unasked = [...known]
    .map(([serial, { charges }]) => ({
      serial,
      amountMinor: sum(charges.map((one) => one.amountMinor)),
    }))
    .filter(({ serial, amountMinor }) => amountMinor > 0 && !seen.has(serial))
  return {
    rows,
    askedMinor: sum(rows.map((one) => one.askedMinor)),
    oursMinor: sum(rows.map((one) => one.oursMinor ?? one.askedMinor)),
    disputeMinor: sum(rows.map((one) => one.disputeMinor)),
    unasked,
  }
}
