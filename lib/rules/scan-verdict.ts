/** What the record says of a scanned cylinder. */
export type Scanned = Readonly<{
  status: string
  /** It stands at the site where it is scanned. */
  isHere: boolean
  gasId: string
  isPastDue: boolean
  condition: string
}>

export type ScanCode =
  | 'unknown'
  | 'scrapped'
  | 'unsound'
  | 'wrong_gas'
  | 'wrong_site'
  | 'quarantined'
  | 'lost'
  | 'past_due'
  | 'away'
  | 'in_use'
  | 'empty'

/** Those after which it is set aside; the others are only said. */
const STOPS: ReadonlySet<ScanCode> = new Set([
  'unknown',
  'scrapped',
  'unsound',
  'wrong_gas',
  'wrong_site',
  'quarantined',
  'lost',
  'past_due',
])
const AWAY: ReadonlySet<string> = new Set(['returned', 'at_test', 'in_transit', 'new'])

export type ScanVerdict = Readonly<{ codes: readonly ScanCode[]; mustStop: boolean }>

/**
 * What is said, worst first, when a cylinder is scanned at a site.
 *
 * @param wantedGas the gas that is looked for; null when any will do
 */
export function scanVerdict(scanned: Scanned | null, wantedGas: string | null): ScanVerdict {
  if (!scanned) return { codes: ['unknown'], mustStop: true }
  const { status, isHere, gasId, isPastDue, condition } = scanned
  const isAway = AWAY.has(status)
  const said: readonly (readonly [boolean, ScanCode])[] = [
    [status === 'scrapped', 'scrapped'],
    [condition !== 'sound', 'unsound'],
    [wantedGas !== null && gasId !== wantedGas, 'wrong_gas'],
    [!isHere && !isAway && status !== 'lost' && status !== 'scrapped', 'wrong_site'],
    [status === 'quarantined', 'quarantined'],
    [status === 'lost', 'lost'],
    [isPastDue, 'past_due'],
    [isAway, 'away'],
    [status === 'in_use', 'in_use'],
    [status === 'empty', 'empty'],
  ]
  const codes = said.flatMap(([is, code]) => (is ? [code] : []))
  return { codes, mustStop: codes.some((code) => STOPS.has(code)) }
}
