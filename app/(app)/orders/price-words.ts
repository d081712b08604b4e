const MINOR = 100

/** A price as people read it; null where there is none. */
export function priceWords(minor: number | null, currency: string): string | null {
  if (minor === null) return null
  return new Intl.NumberFormat('en-US', { style: 'currency', currency }).format(minor / MINOR)
}
