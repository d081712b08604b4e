const formatters = new Map<number, Intl.NumberFormat>()

function formatterFor(decimals: number): Intl.NumberFormat {
  const known = formatters.get(decimals)
  if (known) return known
  const made = new Intl.NumberFormat('en-US', {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  })
  formatters.set(decimals, made)
  return made
}

/** "1,106", "20.9". Never "-0". A real minus sign, not a hyphen. */
export function formatNumber(value: number, decimals = 0): string {
  if (!Number.isFinite(value)) throw new RangeError('formatNumber needs a finite number')
  const text = formatterFor(decimals).format(value)
  return /^-[0.,]*$/.test(text) ? text.slice(1) : text.replace('-', '\u2212')
}

/** "80–92", the 9 in 10 of a number; "−9 to 12" where a dash would look like a sign. Both ends rounded outwards, so that it never claims more than is known. */
export function formatInterval(low: number, high: number, decimals = 0): string {
  const step = 10 ** decimals
  const outwards = {
    low: Math.floor(low * step + 1e-9) / step,
    high: Math.ceil(high * step - 1e-9) / step,
  }
  const between = outwards.low < 0 ? ' to ' : '–'
  return `${formatNumber(outwards.low, decimals)}${between}${formatNumber(outwards.high, decimals)}`
}

/** Decimals that show about three figures of a number of this size: 0.060, 2.16, 12.1, 152. */
export function decimalsFor(value: number): number {
  const size = Math.abs(value)
  if (size >= 100 || size === 0) return 0
  if (size >= 10) return 1
  return size >= 0.1 ? 2 : 3
}

/** Money as people read it: "$410". Costs that were computed are rounded to the nearest ten and said with "about". */
export function formatMoney(minorUnits: number, currency: string): string {
  const isWhole = Number.isInteger(minorUnits / 100)
  return new Intl.NumberFormat('en-US', {
    style: 'currency',
    currency,
    minimumFractionDigits: isWhole ? 0 : 2,
    maximumFractionDigits: isWhole ? 0 : 2,
  })
    .format(minorUnits / 100)
    .replace('-', '\u2212')
}

export function formatAboutMoney(units: number, currency: string): string {
  return formatMoney((Math.round(units / 10) || 0) * 1000, currency)
}
