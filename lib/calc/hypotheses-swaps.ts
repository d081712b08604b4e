import { type Candidate, readingAt, sizeNear, subjectOf } from './hypotheses-candidates'
import { CAUSE_PRIORS } from './hypotheses-priors'
import { groupBy } from './hypotheses-stretches'
import type { TrailSystem } from './hypotheses-system'
import type { Stretch, Trail, TrailReading } from './hypotheses-types'
import { once } from './reconcile-solver'

/** A cylinder changes by this share of a full one while it stands, or nobody took it for another. Own choice. */
const LEAST_CHANGE = 0.25
/** Most are changed when they are used up. Own choice. */
const USED_UP = 0.8
/** A cylinder that is put on unlogged was about full. Own choice. */
const FULL_SHARE = 0.8

type Stay = { end: number; place: number; stretch: Stretch; from: TrailReading; to: TrailReading }

function staysOf(trail: Trail, { stretchOf, before, stretches }: TrailSystem): Stay[] {
  return Array.from(stretchOf.keys()).flatMap((end): Stay[] => {
    const place = stretchOf[end] as number
    const stretch = stretches[place]
    if (!stretch) return []
    const from = readingAt(trail, before[end] as number)
    return [{ end, place, stretch, from, to: readingAt(trail, end) }]
  })
}

const isAlike = (a: TrailReading, b: TrailReading) =>
  a.sizeId === b.sizeId && a.siteId === b.siteId && a.cylinderId !== b.cylinderId

const meets = (a: Stay, b: Stay) => a.from.atMs <= b.to.atMs && b.from.atMs <= a.to.atMs

/**
 * Cylinders that took each other's place without a word: full ones hung on and not written down, and one
 * that was written down for another.
 */
export function* swapCandidates(trail: Trail, parted: TrailSystem): Generator<Candidate> {
  const stays = staysOf(trail, parted)
  const standing = stays.filter((stay) => stay.stretch.kind === 'standing')
  const fell = standing.filter(
    ({ from, to }) => from.gasKg - to.gasKg > LEAST_CHANGE * from.nominalKg,
  )
  const rose = standing.filter(
    ({ from, to }) => to.gasKg - from.gasKg > LEAST_CHANGE * from.nominalKg,
  )
  const hanging = stays.filter((stay) => stay.stretch.outfitId !== null)
  const bySize = new Map(groupBy(fell, (stay) => stay.from.sizeId))
  const alikeOf = ({ from }: Stay) => bySize.get(from.sizeId) ?? []
  for (const stay of hanging) yield* unloggedSwap(trail, parted, stay, alikeOf(stay))
  for (const one of rose) yield* wrongCylinder(trail, one, alikeOf(one))
}

/**
 * The readings go on as if of the one that came off: they fall short by what the other held more.
 *
 * Nobody changes one that still has gas, or seldom: the size is that of a full one above its heel. The other
 * is later read with less than it stood there with.
 */
function unloggedSwap(
  trail: Trail,
  parted: TrailSystem,
  stay: Stay,
  fell: readonly Stay[],
): Candidate[] {
  const { stretch, place, from, end } = stay
  if ((parted.system.multipliers[place] as number) >= 0) return []
  const { nominalKg, heelKg } = from
  const usedUpKg = nominalKg - heelKg
  const priors = [
    { ...sizeNear(usedUpKg, nominalKg, true), weight: USED_UP },
    { mean: usedUpKg / 2, sd: usedUpKg / 4, weight: 1 - USED_UP, isPositive: true },
  ]
  const partners = fell.filter(
    (one) => isAlike(one.from, from) && meets(one, stay) && one.from.gasKg > FULL_SHARE * nominalKg,
  )
  const alone = { balance: place, effect: -1 }
  const common = {
    kind: 'swap_not_logged' as const,
    belief: CAUSE_PRIORS.swap_not_logged / (1 + partners.length),
    kgPerUnit: 1,
  }
  return [
    {
      ...common,
      signature: [alone],
      detail: once(() => ({
        priors,
        hows: [null, null],
        subject: subjectOf(trail, [stretch], [end]),
      })),
    },
    ...partners.map((one) => ({
      ...common,
      signature: [
        alone,
        { balance: one.place, effect: (one.from.gasKg - one.to.gasKg) / usedUpKg },
      ],
      detail: once(() => ({
        priors,
        hows: [null, null],
        subject: subjectOf(trail, [stretch], [end, one.end]),
      })),
    })),
  ]
}

/** One is found fuller than it was taken off, another emptier than it was left: they were taken for each other. */
function wrongCylinder(trail: Trail, rose: Stay, fell: readonly Stay[]): Candidate[] {
  const others = fell.filter((one) => isAlike(one.from, rose.from) && meets(one, rose))
  return others.map((one) => ({
    kind: 'wrong_cylinder_logged',
    signature: [
      { balance: rose.place, effect: -1 },
      { balance: one.place, effect: 1 },
    ],
    belief: CAUSE_PRIORS.wrong_cylinder_logged / others.length,
    kgPerUnit: 1,
    detail: once(() => ({
      priors: [
        sizeNear(
          (rose.to.gasKg - rose.from.gasKg + one.from.gasKg - one.to.gasKg) / 2,
          rose.from.nominalKg,
          true,
        ),
      ],
      hows: [null],
      subject: subjectOf(trail, [rose.stretch, one.stretch], [rose.end, one.end]),
    })),
  }))
}
