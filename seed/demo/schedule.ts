import type { Chance } from '../random'
import { addDays, localDay, weekdayOf } from '../zones'
import { siteOf } from './places'
import { CURRENT, WORK, type WorkingSite } from './work'
import { HISTORY_DAYS } from './world'

/** When a job runs: a day for each permit, two on a day where two teams share it. */
export type JobSlot = Readonly<{
  site: WorkingSite
  number: string
  title: string
  days: readonly Readonly<{ day: string; team: number }>[]
  isCurrent: boolean
}>

const LAST_HISTORY_DAY = -2

function workdaysFrom(day: string, count: number): string[] {
  const days: string[] = []
  for (let ahead = 0; days.length < count; ahead += 1) {
    const candidate = addDays(day, ahead)
    if (weekdayOf(candidate) <= 5) days.push(candidate)
  }
  return days
}

function workdaysBefore(lastDay: string, count: number): string[] {
  const days: string[] = []
  for (let back = 0; days.length < count; back += 1) {
    const candidate = addDays(lastDay, -back)
    if (weekdayOf(candidate) <= 6) days.unshift(candidate)
  }
  return days
}

type Unnumbered = Omit<JobSlot, 'number'>

function pastJobs(site: WorkingSite, today: string, chance: Chance): Unnumbered[] {
  const { jobs, daysAJob, titles } = WORK[site]
  const startDay = addDays(today, -HISTORY_DAYS + 6)
  // The last three weeks belong to the job that runs today.
  const spacing = Math.floor((HISTORY_DAYS - 6 - 21) / jobs)
  return Array.from({ length: jobs }, (_unused, i): Unnumbered => {
    const permits = chance.whole(daysAJob[0], daysAJob[1])
    const isShared = site === 'mill' && i % 3 === 1
    const first = addDays(startDay, i * spacing + chance.whole(0, 4))
    const dayCount = isShared ? Math.ceil(permits / 2) : permits
    const team = i % 2
    const days = workdaysFrom(first, dayCount).flatMap((day) =>
      isShared
        ? [
            { day, team: 0 },
            { day, team: 1 },
          ]
        : [{ day, team }],
    )
    return { site, title: titles[i % titles.length] ?? 'Cutting', days, isCurrent: false }
  })
}

function currentJob(site: WorkingSite, today: string): JobSlot {
  const { number, title, daysBefore } = CURRENT[site]
  const days = workdaysBefore(addDays(today, LAST_HISTORY_DAY), daysBefore).map((day) => ({
    day,
    team: 0,
  }))
  return { site, number, title, days, isCurrent: true }
}

const SITES_AT_WORK = Object.keys(WORK) as WorkingSite[]
const FIRST_CURRENT_NUMBER = 409

/** Every job of the year, numbered in the order in which they begin; then those of today. */
export function planJobs(nowMs: number, chance: Chance): JobSlot[] {
  const past = SITES_AT_WORK.flatMap((site) =>
    pastJobs(site, localDay(siteOf(site).zone, nowMs), chance.branch(site)),
  )
  past.sort((a, b) => (a.days[0]?.day ?? '').localeCompare(b.days[0]?.day ?? ''))
  const numbered = past.map(
    (slot, i): JobSlot => ({
      ...slot,
      number: String(FIRST_CURRENT_NUMBER - past.length + i).padStart(4, '0'),
    }),
  )
  return [
    ...numbered,
    ...SITES_AT_WORK.map((site) => currentJob(site, localDay(siteOf(site).zone, nowMs))),
  ]
}
