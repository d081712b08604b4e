import { z } from 'zod'
import {
  clientKey,
  clockField,
  idField,
  numberField,
  optionalId,
  requiredText,
  versionField,
} from './fields'

export const SITE_KINDS = ['mill', 'harbor', 'bridge', 'demolition', 'yard', 'dam'] as const
export const AREA_CLASSES = ['designated', 'permit', 'not_permitted'] as const
export const FLOORS = ['noncombustible', 'combustible'] as const
export const WALLS = [
  'noncombustible',
  'combustible',
  'metal',
  'sandwich_panel',
  'metal_combustible_covering',
] as const
export const SHIPYARD_SPACES = ['none', 'tank_or_adjacent', 'other_space'] as const
export const AREA_TICKS = [
  'indoors',
  'enclosed',
  'confinedSpace',
  'sprinklers',
  'detection',
] as const
export const WEEKDAYS = ['1', '2', '3', '4', '5', '6', '7'] as const

function isZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone.length > 0
  } catch {
    return false
  }
}

const MOST_SHIFTS = 6

/** "07:00 15:00 23:00"; none where the site keeps no shifts. */
const shiftStartsField = z
  .string()
  .default('')
  .transform((text) => [...new Set(text.split(/[\s,;]+/).filter(Boolean))].sort())
  .pipe(z.array(clockField).max(MOST_SHIFTS, 'MANY_SHIFTS'))

const yesOrNo = z
  .enum(['yes', 'no'])
  .default('no')
  .transform((value) => value === 'yes')

const siteFields = {
  key: clientKey,
  name: requiredText(80),
  shortName: requiredText(24),
  kind: z.enum(SITE_KINDS),
  zone: z.string().refine((name) => name.includes('/') && isZone(name), 'NO_SUCH_ZONE'),
  address: requiredText(200),
  emergencyWords: requiredText(300),
  shiftEnds: clockField,
  shiftStarts: shiftStartsField,
  loneOperator: yesOrNo,
  paiMayWatch: yesOrNo,
  deliveryDays: z.array(z.enum(WEEKDAYS).transform(Number)),
}

/** A new site goes by the rulesets of one that there is, until somebody changes them. */
export const addSiteSchema = z.object({ ...siteFields, likeSiteId: idField })
export type AddSiteInput = z.output<typeof addSiteSchema>

export const changeSiteSchema = z.object({ ...siteFields, siteId: idField, version: versionField })
export type ChangeSiteInput = z.output<typeof changeSiteSchema>

const ticked = z
  .literal('yes')
  .optional()
  .transform((value) => value === 'yes')

const MOST_POSTS = 12

/** One post a line; each has a name of its own. */
const postsField = z
  .string()
  .transform((text) => [...new Set(text.split('\n').map((line) => line.trim()))].filter(Boolean))
  .pipe(
    z.array(z.string().max(60, 'TOO_LONG')).min(1, 'POST_MISSING').max(MOST_POSTS, 'MANY_POSTS'),
  )

export const saveAreaSchema = z.object({
  key: clientKey,
  siteId: idField,
  /** None: a new one. */
  areaId: optionalId,
  version: versionField.default(0),
  name: requiredText(60),
  areaClass: z.enum(AREA_CLASSES),
  indoors: ticked,
  enclosed: ticked,
  confinedSpace: ticked,
  sprinklers: ticked,
  detection: ticked,
  floor: z.enum(FLOORS),
  wall: z.enum(WALLS),
  levelFt: numberField.pipe(z.number().min(-500).max(3000)),
  shipyardSpace: z.enum(SHIPYARD_SPACES),
  posts: postsField,
  /** Each post carries a code that a round scans. */
  codes: ticked,
  /** An area that the same pair of eyes covers. */
  seenWithId: optionalId,
})
export type SaveAreaInput = z.output<typeof saveAreaSchema>
