/** Every place the two navigations lead to; `label` is a key of `nav` in the messages. */
export interface Destination {
  readonly href: string
  readonly label:
    | 'today'
    | 'cuts'
    | 'permits'
    | 'gas'
    | 'sites'
    | 'plan'
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
  { href: '/cuts', label: 'cuts' },
  { href: '/permits', label: 'permits' },
  { href: '/cylinders', label: 'cylinders' },
  { href: '/plan', label: 'plan' },
  { href: '/audit', label: 'audit' },
  { href: '/people', label: 'people' },
  { href: '/records', label: 'records' },
]

const TOP_SCREENS: ReadonlySet<string> = new Set(
  [...PHONE_DESTINATIONS, ...DESK_DESTINATIONS, { href: '/me' }].map((place) => place.href),
)

/** Top screens have the phone's bar of words; deeper ones give that room to the thumb. */
export function isTopScreen(pathname: string): boolean {
  return TOP_SCREENS.has(pathname)
}

/** Pages whose address lies elsewhere than the place that leads to them. */
const BELONGS: readonly (readonly [RegExp, string])[] = [
  [/^\/permits\/[^/]+\/record$/, '/records'],
  [/^\/(jobs|reckon|charts)(\/|$)/, '/cuts'],
  [/^\/(deliveries|rent|storage|suppliers|trips)(\/|$)/, '/cylinders'],
  [/^\/(outfits|extinguishers|instruments|incidents|rules)(\/|$)/, '/people'],
  [/^\/orders(\/|$)/, '/plan'],
]

/** A page below a destination belongs to it. */
export function isCurrent(href: string, pathname: string): boolean {
  const place = BELONGS.find(([pattern]) => pattern.test(pathname))?.[1] ?? pathname
  return place === href || place.startsWith(`${href}/`)
}
