import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { convert } from '@/lib/calc/units'
import type { WeatherReportInput } from '@/lib/schemas/weather'
import { db } from '../client'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { assertOnPermit, loadPermitContext, readPermitContext } from './context'
import { type PermitHead, toHead } from './head'

export type WeatherView = Readonly<{
  head: PermitHead
  isOutdoors: boolean
  windMaxMph: number | null
  reports: readonly Readonly<{
    id: string
    kind: WeatherReportInput['kind']
    windMph: number | null
    words: string
    at: Date
  }>[]
  canReport: boolean
  /** A ban is lifted by whom the area may be cleared by. */
  canLift: boolean
}>

const SHOWN = 10

/** What was said of the weather at the permit's site, newest first. */
export async function getWeather(viewer: Viewer, permitId: string): Promise<WeatherView> {
  const context = await readPermitContext(viewer, permitId)
  const { siteId } = context.facts
  const rows = await db.weatherReport.findMany({
    where: { siteId },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: SHOWN,
    select: { id: true, kind: true, windMph: true, words: true, at: true },
  })
  return {
    head: toHead(context),
    isOutdoors: !context.area.indoors,
    windMaxMph: context.duties.windMaxMph,
    // A CHECK holds the kind to these.
    reports: rows.map((row) => ({ ...row, kind: row.kind as WeatherReportInput['kind'] })),
    canReport: can(viewer, 'permit:hold', siteId),
    canLift: can(viewer, 'permit:clear', siteId),
  }
}

export type WeatherKept = Readonly<{ permitId: string; isHeld: boolean }>

/** Keeps what somebody says of the weather; the database holds in the same breath what it forbids. */
export async function reportWeather(
  viewer: Viewer,
  input: WeatherReportInput,
): Promise<WeatherKept> {
  const act = input.kind === 'ban_lifted' ? 'permit:clear' : 'permit:hold'
  const { siteId } = await assertOnPermit(viewer, act, input.permitId)
  const role = roleThen(viewer, act, siteId)
  return inTransaction(viewer, act, (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:weather', input }, async () => {
      const before = await loadPermitContext(tx, input.permitId)
      const { kind, wind, windUnit, words, deviceAt } = input
      const windMph = wind === null ? null : convert({ value: wind, from: windUnit, to: 'mph' })
      await tx.weatherReport.create({
        select: { id: true },
        data: {
          ...{ id: uuidv7(), siteId, kind, windMph, words, deviceAt },
          personId: viewer.personId,
          roleThen: role,
        },
      })
      const after = await loadPermitContext(tx, input.permitId)
      const isHeld = before.facts.state === 'open' && after.facts.state === 'held'
      return { permitId: input.permitId, isHeld }
    }),
  )
}
