import { CalcError } from './errors'

/** One entry of a cylinder's record that moves it or says what is in it. Kilograms. */
export type DrawnEntry = Readonly<{
  cylinderId: string
  /** Whole day, counted from 1970-01-01 by the site's calendar. */
  day: number
  siteId: string
  jobId: string | null
  kind: string
  contentsKg: number | null
  markedEmpty: boolean
  nominalKg: number
  heelKg: number
}>

export type Drawn = Readonly<{
  cylinderId: string
  siteId: string
  jobId: string | null
  day: number
  kg: number
}>

const PUT_ON: ReadonlySet<string> = new Set(['put_on', 'found_on'])
const COMES_FULL: ReadonlySet<string> = new Set(['received', 'bought', 'rented_in', 'filled'])

function contentsAfter(entry: DrawnEntry, before: number | null): number | null {
  if (entry.contentsKg !== null) return entry.contentsKg
  if (entry.markedEmpty) return Math.min(entry.heelKg, before ?? entry.heelKg)
  return COMES_FULL.has(entry.kind) ? entry.nominalKg : before
}

/**
 * Gas that went out of cylinders while they hung on an outfit, each drop at the day, site and job of the
 * entry that showed it. What is read higher than before gives back what an earlier reading took too
 * much: the sum over a stay is what went in less what came off.
 *
 * @param entries in order of cylinder and of what happened to it; kilograms, each finite and >= 0
 * @returns one drop an entry that showed one, kilograms, negative where a reading gave back
 * @throws {CalcError} OUT_OF_RANGE
 * @source conservation of mass
 */
export function gasDrawn(entries: readonly DrawnEntry[]): Drawn[] {
  const drawn: Drawn[] = []
  let cylinderId = ''
  let known: number | null = null
  let isOn = false
  for (const entry of entries) {
    for (const [field, value] of Object.entries({ ...entry, contentsKg: entry.contentsKg ?? 0 }))
      if (typeof value === 'number' && (!Number.isFinite(value) || value < 0))
        throw new CalcError('OUT_OF_RANGE', field, value)
    if (entry.cylinderId !== cylinderId) {
      cylinderId = entry.cylinderId
      known = null
      isOn = false
    }
    const after = contentsAfter(entry, known)
    if (isOn && known !== null && after !== null && after !== known) {
      const { siteId, jobId, day } = entry
      drawn.push({ cylinderId, siteId, jobId, day, kg: known - after })
    }
    known = after
    if (PUT_ON.has(entry.kind)) isOn = true
    if (entry.kind === 'taken_off' || entry.kind === 'lost') isOn = false
  }
  return drawn
}
