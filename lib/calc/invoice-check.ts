/** What an invoice's row asks for: one cylinder by its serial, fills or deposits of a size, the delivery, or something else. */
export type InvoiceItem =
  | Readonly<{ kind: 'serial'; serial: string }>
  | Readonly<{ kind: 'fill'; sizeId: string }>
  | Readonly<{ kind: 'deposit'; sizeId: string }>
  | Readonly<{ kind: 'fee' }>
  | Readonly<{ kind: 'other' }>

/** Money in minor units. */
export type InvoiceRow = Readonly<{
  row: number
  item: InvoiceItem
  quantity: number
  amountMinor: number
}>

export type InvoiceFault =
  | 'not_delivered'
  | 'twice'
  | 'sent_back'
  | 'quantity_differs'
  | 'price_differs'
  | 'price_unknown'
  | 'fee_differs'
  | 'not_agreed'

export type CheckedInvoiceRow = Readonly<{
  row: number
  askedMinor: number
  /** By the delivery and what was agreed; null where no price is known. */
  oursMinor: number | null
  /** Of what is asked for, how many came and were not asked for before. */
  oursQuantity: number
  askedQuantity: number
  /** What to dispute: asked less ours, never below nothing. */
  disputeMinor: number
  faults: readonly InvoiceFault[]
}>

export type InvoiceCheck = Readonly<{
  rows: readonly CheckedInvoiceRow[]
  askedMinor: number
  oursMinor: number
  disputeMinor: number
  /** Came and stands in no row: to be expected on another invoice. */
  unasked: readonly Readonly<{ sizeId: string; count: number }>[]
}>

type Delivered = Readonly<{ serial: string; sizeId: string }>

export type InvoiceInput = Readonly<{
  rows: readonly InvoiceRow[]
  /** What came and is to be paid. */
  received: readonly Delivered[]
  /** Left on the truck, sent back or credited. */
  notPaid: readonly string[]
  /** Agreed for this delivery; null: no price. */
  fillOf: (sizeId: string) => number | null
  depositOf: (sizeId: string) => number | null
  feeMinor: number | null
  /** A difference up to this is rounding. */
  toleranceMinor: number
}>

/** What is asked for less what was asked for before: of each cylinder one fill and one deposit, of the delivery one fee. */
class Left {
  private readonly fills: Map<string, Delivered>
  private readonly deposits = new Map<string, number>()
  private readonly asked = new Set<string>()
  private hasFee = true

  constructor(received: readonly Delivered[]) {
    this.fills = new Map(received.map((one) => [one.serial, one]))
    for (const { sizeId } of received)
      this.deposits.set(sizeId, (this.deposits.get(sizeId) ?? 0) + 1)
  }
  takeSerial(serial: string): Readonly<{ of: Delivered | null; isAgain: boolean }> {
    const of = this.fills.get(serial) ?? null
    const isAgain = this.asked.has(serial)
    this.fills.delete(serial)
    this.asked.add(serial)
    return { of, isAgain }
  }
  takeFills(sizeId: string, quantity: number): number {
    const of = [...this.fills.values()].filter((one) => one.sizeId === sizeId).slice(0, quantity)
    for (const { serial } of of) this.takeSerial(serial)
    return of.length
  }
  takeDeposits(sizeId: string, quantity: number): number {
    const left = this.deposits.get(sizeId) ?? 0
    const count = Math.min(left, quantity)
    this.deposits.set(sizeId, left - count)
    return count
  }
  takeFee(): boolean {
    const had = this.hasFee
    this.hasFee = false
    return had
  }
  unasked(): InvoiceCheck['unasked'] {
    const counts = new Map<string, number>()
    for (const { sizeId } of this.fills.values()) counts.set(sizeId, (counts.get(sizeId) ?? 0) + 1)
    return [...counts].map(([sizeId, count]) => ({ sizeId, count }))
  }
}

type Ours = Readonly<{
  oursMinor: number | null
  oursQuantity: number
  faults: readonly InvoiceFault[]
  /** What it is called where the amount alone is wrong. */
  differs: InvoiceFault
}>

function oursOf({ item, quantity }: InvoiceRow, left: Left, input: InvoiceInput): Ours {
  const some = (count: number, eachMinor: number | null): Ours => ({
    oursMinor: count === 0 ? 0 : eachMinor === null ? null : count * eachMinor,
    oursQuantity: count,
    faults: count < quantity ? ['quantity_differs'] : [],
    differs: 'price_differs',
  })
  const nothing = (fault: InvoiceFault): Ours => ({
    oursMinor: 0,
    oursQuantity: 0,
    faults: [fault],
    differs: 'price_differs',
  })
  if (item.kind === 'fill')
    return some(left.takeFills(item.sizeId, quantity), input.fillOf(item.sizeId))
  if (item.kind === 'deposit')
    return some(left.takeDeposits(item.sizeId, quantity), input.depositOf(item.sizeId))
  if (item.kind === 'other')
    return { oursMinor: null, oursQuantity: 0, faults: ['not_agreed'], differs: 'not_agreed' }
  if (item.kind === 'fee') {
    if (!left.takeFee()) return nothing('twice')
    return { oursMinor: input.feeMinor, oursQuantity: 1, faults: [], differs: 'fee_differs' }
  }
  const { of, isAgain } = left.takeSerial(item.serial)
  if (of) return some(1, input.fillOf(of.sizeId))
  if (isAgain) return nothing('twice')
  return nothing(input.notPaid.includes(item.serial) ? 'sent_back' : 'not_delivered')
}

/**
 * A supplier's invoice of a delivery beside what was received and agreed, row by row: what never came,
 * went back or is asked for twice, and amounts that are not the agreed ones.
 *
 * @param input quantities whole; money in minor units of one currency
 * @returns every row with what is wrong in it and how much to dispute; nothing where no price is known or no
 *   agreement names what is asked for: a person looks at those
 * @source arithmetic of what was received and agreed; no outside source
 */
export function checkInvoice(input: InvoiceInput): InvoiceCheck {
  const left = new Left(input.received.filter((one) => !input.notPaid.includes(one.serial)))
  const check = (asked: InvoiceRow): CheckedInvoiceRow => {
    const { oursMinor, oursQuantity, faults, differs } = oursOf(asked, left, input)
    const over = oursMinor === null ? 0 : asked.amountMinor - oursMinor
    const isOff = Math.abs(over) > input.toleranceMinor
    const more: readonly InvoiceFault[] =
      faults.length > 0 ? [] : oursMinor === null ? ['price_unknown'] : isOff ? [differs] : []
    return {
      row: asked.row,
      askedMinor: asked.amountMinor,
      oursMinor,
      oursQuantity,
      askedQuantity: asked.quantity,
      disputeMinor: isOff ? Math.max(0, over) : 0,
      faults: [...faults, ...more],
    }
  }
  // What is named by its serial is taken first, so that a row of a whole size does not take it.
  const isNamed = ({ item }: InvoiceRow) => item.kind === 'serial'
  const named = input.rows.filter(isNamed).map(check)
  const others = input.rows.filter((row) => !isNamed(row)).map(check)
  const rows = [...named, ...others].toSorted((a, b) => a.row - b.row)
  const sum = (of: (row: CheckedInvoiceRow) => number) =>
    rows.reduce((total, row) => total + of(row), 0)
  return {
    rows,
    askedMinor: sum((row) => row.askedMinor),
    oursMinor: sum((row) => row.oursMinor ?? row.askedMinor),
    disputeMinor: sum((row) => row.disputeMinor),
    unasked: left.unasked(),
  }
}
