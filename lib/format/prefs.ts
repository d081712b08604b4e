/** What a person chose to read, and the zone of the place they read about. */
export interface FormatPrefs {
  readonly units: 'us' | 'si'
  readonly clock: '24' | '12'
  readonly timeZone: string
}
