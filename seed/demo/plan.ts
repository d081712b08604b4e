import type { Fact } from '../facts'
import { namedUuid } from '../ids'
import { openBottles } from './bottles'
import { openFaults } from './faults'
import { playHistory } from './history'
import { openRigs } from './outfits'
import { CREWS, type CrewKey, PEOPLE } from './people'
import { SITES, type SiteKey } from './places'
import { type Secrets, writeCompany } from './set-up'
import { playToday } from './today'
import { demoChance, HISTORY_DAYS, openScribe, type Planted, type World } from './world'

const DAY_MS = 86_400_000

function openWorld(nowMs: number): World {
  const { scribe, facts } = openScribe()
  const chance = demoChance()
  const startMs = nowMs - (HISTORY_DAYS + 2) * DAY_MS
  const siteIds = Object.fromEntries(
    SITES.map((site) => [site.key, namedUuid(`site/${site.key}`, startMs)]),
  ) as Record<SiteKey, string>
  const crewIds = Object.fromEntries(
    Object.keys(CREWS).map((key) => [key, namedUuid(`crew/${key}`, startMs)]),
  ) as Record<CrewKey, string>
  return {
    nowMs,
    startMs,
    chance,
    scribe,
    facts,
    bottles: openBottles(startMs, nowMs, chance.branch('bottles')),
    rigs: openRigs(startMs),
    siteIds,
    crewIds,
    personIds: new Map(
      PEOPLE.map((person) => [person.key, namedUuid(`person/${person.key}`, startMs)]),
    ),
    areaIds: new Map(
      SITES.flatMap((site) =>
        site.areas.map(
          (area) =>
            [
              `${site.key}/${area.key}`,
              namedUuid(`area/${site.key}/${area.key}`, startMs),
            ] as const,
        ),
      ),
    ),
    planted: [],
  }
}

export type DemoPlan = Readonly<{ facts: readonly Fact[]; planted: readonly Planted[] }>

/** The whole demo company as facts, thought out in memory: the same for the same now. */
export function planDemo(nowMs: number, secrets: Secrets): DemoPlan {
  const world = openWorld(nowMs)
  writeCompany(world, secrets)
  const state = playHistory(world, openFaults())
  playToday(world, state)
  return { facts: world.facts, planted: world.planted }
}
