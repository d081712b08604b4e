import 'server-only'
import { z } from 'zod'
import type { AreaFacts } from '@/lib/permit/survey'
import type { FrozenDuties } from '@/lib/permit/types'

const nullableNumber = z.number().nullable()
const ruleId = z.string().nullable().default(null)

const dutiesSchema = z.object({
  watchRequired: z.boolean(),
  watchMin: z.number(),
  roundIntervalMin: z.number(),
  monitoringMin: z.number(),
  finalLookMin: z.number(),
  // Permits issued before these were kept have none of them.
  monitoringCheckEveryMin: nullableNumber.default(null),
  watchMinAfterSurvey: nullableNumber.default(null),
  finalLookMinAfterSurvey: nullableNumber.default(null),
  statementRequired: z.boolean(),
  gasTestValidMin: z.number(),
  gasTestNeeded: z.boolean(),
  gasTestContinuous: z.boolean(),
  oxygenMinPct: z.number(),
  oxygenMaxPct: z.number(),
  oxygenStopAtPct: nullableNumber.default(null),
  lelMaxPct: z.number(),
  lelStopAtPct: nullableNumber,
  coMaxPpm: z.number(),
  h2sMaxPpm: z.number(),
  breakLimitMin: z.number(),
  capHours: z.number(),
  paiOnSiteWithinMin: z.number(),
  resumeNeedsPai: z.boolean(),
  reinspectEveryHours: nullableNumber,
  reinspectEachShift: z.boolean(),
  gearCheckEachShift: z.boolean().default(false),
  gasOffAfterIdleMin: nullableNumber,
  windMaxMph: nullableNumber.default(null),
  posts: z.array(z.string()),
  layers: z.array(z.object({ id: z.string(), version: z.number() })),
  rules: z.object({
    watch: ruleId,
    finalLook: ruleId,
    monitoring: ruleId,
    statement: ruleId,
    cap: ruleId,
  }),
})

const postSchema = z.object({ id: z.string(), name: z.string(), code: z.string().optional() })
const impairmentSchema = z.object({ id: z.string(), label: z.string() })

const frozenSchema = z.object({
  duties: dutiesSchema,
  impairments: z.array(impairmentSchema).default([]),
  posts: z.array(postSchema).default([]),
})

export type Post = z.infer<typeof postSchema>
export type Frozen = Readonly<{
  duties: FrozenDuties
  impairments: readonly z.infer<typeof impairmentSchema>[]
  posts: readonly Post[]
}>

/** What a permit froze when it was issued; null before. */
export function readFrozen(stored: unknown): Frozen | null {
  if (stored === null || stored === undefined) return null
  const { duties, impairments, posts } = frozenSchema.parse(stored)
  const layers = duties.layers as FrozenDuties['layers'] // ids as lib/rules wrote them
  return { duties: { ...duties, layers }, impairments, posts }
}

const areaFactsSchema = z.object({
  indoors: z.boolean(),
  enclosed: z.boolean(),
  confinedSpace: z.boolean().default(false),
  sprinklers: z.boolean(),
  detection: z.boolean(),
  floor: z.enum(['noncombustible', 'combustible']),
  wall: z.enum([
    'noncombustible',
    'combustible',
    'metal',
    'sandwich_panel',
    'metal_combustible_covering',
  ]),
  levelFt: z.number(),
  shipyardSpace: z.enum(['none', 'tank_or_adjacent', 'other_space']).default('none'),
})

/** The standing facts of an area; facts that are not whole are a broken record, not an empty one. */
export function readAreaFacts(stored: unknown): AreaFacts {
  return areaFactsSchema.parse(stored)
}

export function readPosts(stored: unknown): readonly Post[] {
  return z.array(postSchema).parse(stored)
}

const answerSchema = z.object({
  choice: z.string(),
  what: z.string().optional(),
  distanceFt: z.number().optional(),
  cover: z.enum(['listed_pad', 'rigid_cover']).optional(),
  sparksReachFt: z.number().nullable().optional(),
  windMph: z.number().optional(),
})

export type StoredAnswer = z.infer<typeof answerSchema>

export function readAnswer(stored: unknown): StoredAnswer {
  return answerSchema.parse(stored)
}

const roundPostSchema = z.object({
  postId: z.string(),
  name: z.string(),
  answer: z.enum(['clear', 'warm', 'smoke']),
  unscanned: z.string().optional(),
  scanned: z.boolean().optional(),
})

export function readRoundPosts(stored: unknown) {
  return z.array(roundPostSchema).parse(stored)
}
