import type { FleetSite } from '@/lib/data/fleet'
import type { PermitListRow } from '@/lib/data/permits/list'

/** A held permit owes a watch, drawn in a second line. */
export const isOwing = (row: PermitListRow) => row.state === 'held' && row.torchOutAt !== null

export const permitLines = ({ permits }: FleetSite) =>
  1 + Math.max(1, permits.length) + permits.filter(isOwing).length

export const gasLines = ({ gases }: FleetSite) => Math.max(1, gases.length)

/** Both sheets give a site the same number of lines, so that a site stands at one height. */
export const sheetLines = (site: FleetSite) => Math.max(permitLines(site), gasLines(site))

export function BlankRows({ count, columns }: Readonly<{ count: number; columns: number }>) {
  return Array.from({ length: Math.max(0, count) }, (_, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: blank lines have nothing else to tell them apart
    <tr key={index} className="no-line">
      <td colSpan={columns} />
    </tr>
  ))
}
