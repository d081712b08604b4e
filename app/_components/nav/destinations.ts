/** Every place the two navigations lead to; `label` is a key of `nav` in the messages. */
export interface Destination {
  readonly href: string
  readonly label:
    | 'today'
    | 'cuts'
    | 'permits'
    | 'gas'
    | 'sites'
    | 'cylinders'
    | 'audit'
    | 'people'
    | 'records'
}

export const PHONE_DESTINATIONS: readonly Destination[] = [
  { href: '/today', label: 'today' },
  { href: '/cuts', label: 'cuts' },
  { href: '/permits', label: 'permits' },
  { href: '/cylinders', label: 'gas' },
]

export const DESK_DESTINATIONS: readonly Destination[] = [
  { href: '/sites', label: 'sites' },
  { href: '/permits', label: 'permits' },
  { href: '/cylinders', label: 'cylinders' },
  { href: '/audit', label: 'audit' },
  { href: '/people', label: 'people' },
  { href: '/records', label: 'records' },
]

/** A page below a destination belongs to it. */
export function isCurrent(href: string, pathname: string): boolean {
  return pathname === href || pathname.startsWith(`${href}/`)
}
