import type { Role, SiteGrant } from './access'

/** Who is looking: read from the database for every request. */
export interface Viewer {
  readonly personId: string
  readonly name: string
  readonly grants: readonly SiteGrant[]
  /** Every role held anywhere; the record keeps them beside what was done. */
  readonly roles: readonly Role[]
  readonly units: 'us' | 'si'
  readonly clock: '24' | '12'
  readonly theme: 'device' | 'light' | 'dark'
  /** Signed in with a password that somebody else made: sets an own one before anything else. */
  readonly mustBegin?: true
}
