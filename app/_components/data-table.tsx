import type { ReactNode, ThHTMLAttributes } from 'react'

type DataTableProps = Readonly<{
  /** Says what the table is, for who can't see it. */
  caption: string
  /** Takes the place of the table's head row: Column cells. */
  head: ReactNode
  children: ReactNode
  className?: string
  /** Wider than a phone, and nothing in it takes the focus: the room takes it, so that keys can scroll. */
  isWide?: boolean
}>

/** A 2 px line under the head, hairlines between rows. No stripes, no frame. */
export function DataTable({
  caption,
  head,
  children,
  className = '',
  isWide = false,
}: DataTableProps) {
  return (
    <div
      className="table-room"
      {...(isWide ? { role: 'region', 'aria-label': caption, tabIndex: 0 } : {})}
    >
      <table className={`data-table ${className}`}>
        <caption className="sr-only">{caption}</caption>
        <thead>
          <tr>{head}</tr>
        </thead>
        {children}
      </table>
    </div>
  )
}

type ColumnProps = Readonly<
  { children?: ReactNode; isFigure?: boolean } & Pick<
    ThHTMLAttributes<HTMLTableCellElement>,
    'colSpan' | 'aria-label'
  >
>

export function Column({ children, isFigure = false, ...rest }: ColumnProps) {
  return (
    <th scope="col" className={isFigure ? 'is-figure' : undefined} {...rest}>
      {children}
    </th>
  )
}

/** A number, and its interval in the cell beside it. */
export function FigureCells({
  value,
  interval,
  isTrouble = false,
}: Readonly<{ value: ReactNode; interval?: ReactNode; isTrouble?: boolean }>) {
  return (
    <>
      <td className={`is-figure ${isTrouble ? 'is-trouble' : ''}`}>
        <b>{value}</b>
      </td>
      <td className="is-interval">{interval}</td>
    </>
  )
}
