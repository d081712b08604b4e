import 'server-only'
import { instantOfLocal, localDay, nextDay } from '@/lib/format/local-time'
import { paiMayWatch } from '@/lib/permit/issue'
import type {
  PermitFacts,
  PermitState,
  PersonFact,
  QualificationKind,
  SignatureAct,
} from '@/lib/permit/types'
import type { EventRow, PermitBundle, PersonRow, SignatureRow, StintRow } from './bundle'
import { type Frozen, readRoundPosts } from './frozen'

const DAY_MS = 86_400_000

const at = (text: string) => new Date(text)
export const instant = (text: string | null): Date | null => (text === null ? null : new Date(text))

const lastEventAt = (events: readonly EventRow[], kind: string) =>
  instant(events.findLast((event) => event.kind === kind)?.at ?? null)

export function toPerson(row: PersonRow): PersonFact {
  return {
    id: row.id,
    name: row.name,
    isActive: row.disabled_at === null,
    qualifications: row.qualifications.map((one) => ({
      kind: one.kind as QualificationKind, // a CHECK holds the column to these
      validFrom: one.valid_from,
      validUntil: one.valid_until,
    })),
  }
}

const stintsOf = (rows: readonly StintRow[], role: StintRow['role']) =>
  rows
    .filter((row) => row.role === role)
    .map((row) => ({ personId: row.person_id, onAt: at(row.from_at), offAt: instant(row.to_at) }))

/** The survey whose answers this permit was issued on; the present one before that. */
export function clearedSurveyNo({ permit, signatures }: PermitBundle): number {
  if (permit.issued_at === null) return permit.survey_no
  return signatures.findLast((row) => row.act === 'issue')?.survey_no ?? permit.survey_no
}

/** When somebody on the spot last looked: at clearance, or later in a survey of the present hold or watch. */
function lastLookAt(bundle: PermitBundle): Date | null {
  const { permit, answers } = bundle
  const looks =
    permit.issued_at === null
      ? []
      : answers.filter(
          (row) => row.survey_no === permit.survey_no && row.survey_no > clearedSurveyNo(bundle),
        )
  return instant(looks.at(-1)?.at ?? permit.cleared_at)
}

const linked = (number: string | null, until: string | null) =>
  number === null || until === null ? null : { number, until: at(until) }

/** Every look: the clearance, and each answer given in a hold or a watch since the issue. */
function looksAt({ permit, answers }: PermitBundle): Date[] {
  const { issued_at, cleared_at } = permit
  const since = issued_at === null ? [] : answers.filter((row) => row.at > issued_at)
  return [...(cleared_at === null ? [] : [at(cleared_at)]), ...since.map((row) => at(row.at))]
}

/** Each start of a shift since the day before what is asked about, the clearance and the outfit's last look, to the day after now. */
function shiftStartsAt({ permit, site, outfit, now }: PermitBundle): Date[] {
  const { zone, shift_starts } = site
  const last = nextDay(localDay(at(now), zone))
  const known = [permit.cleared_at, outfit?.checked_at, now].filter((one) => one != null)
  const first = Math.min(...known.map((one) => at(one).getTime())) - DAY_MS
  const starts: Date[] = []
  for (let day = localDay(new Date(first), zone); day <= last; day = nextDay(day))
    starts.push(...shift_starts.map((clock) => instantOfLocal({ day, clock, timeZone: zone })))
  return starts.toSorted((a, b) => a.getTime() - b.getTime())
}

/**
 * Whether what was signed is not what stands there now. After the issue the two final signatures are
 * held to it until the permit is closed; the others were for the minute in which they were given.
 */
function isVoid({ permit, content_hash }: PermitBundle, row: SignatureRow): boolean {
  if (permit.issued_at === null) return row.content_hash !== content_hash
  const isFinal = row.act === 'final_watch' && permit.state === 'watch'
  return isFinal && row.content_hash !== null && row.content_hash !== content_hash
}

/** The bundle as lib/permit asks for it. */
export function toFacts(
  bundle: PermitBundle,
  frozen: Frozen | null,
  isEnclosed: boolean,
  /** Today in the site's zone, ISO date. */
  day: string,
): PermitFacts {
  const { permit, events } = bundle
  const restored = new Map(
    events
      .filter((event) => event.kind === 'impairment_restored')
      .map((event) => [(event.data as { impairmentId?: string }).impairmentId, event.at] as const),
  )
  return {
    state: permit.state as PermitState, // a CHECK holds the column to these
    siteId: permit.site_id,
    areaId: permit.area_id,
    areaLabel: bundle.area.name,
    number: `${bundle.job.number}-${permit.number}`,
    operatorId: permit.operator_id,
    fireWatchId: permit.fire_watch_id,
    paiId: permit.issued_by,
    isEnclosed,
    clearedAt: instant(permit.cleared_at),
    issuedAt: instant(permit.issued_at),
    validUntil: instant(permit.valid_until),
    heldAt: instant(permit.held_at),
    torchOutAt: instant(permit.torch_out_at),
    stopPressedAt: instant(permit.stop_pressed_at),
    stoppedAt: instant(permit.stopped_at),
    expiredAt: instant(permit.expired_at),
    lastLookAt: lastLookAt(bundle),
    looksAt: looksAt(bundle),
    linked: {
      host: linked(permit.host_permit, permit.host_permit_until),
      entry: linked(permit.entry_permit, permit.entry_permit_until),
    },
    lone:
      permit.lone_client === null
        ? null
        : {
            client: permit.lone_client,
            isAllowed: bundle.site.lone_operator,
            isBriefed: bundle.is_lone_briefed,
          },
    isPaiWatchAllowed: paiMayWatch(
      bundle.site.pai_may_watch,
      bundle.rulesets.map((row) => row.ruleset_id),
    ),
    shiftStartsAt: shiftStartsAt(bundle),
    gear: bundle.outfit && {
      label: bundle.outfit.number,
      checkedAt: instant(bundle.outfit.checked_at),
    },
    duties: frozen?.duties ?? null,
    // Signatures of an earlier survey were about another look at the area.
    signatures: bundle.signatures
      .filter((row) => permit.issued_at !== null || row.survey_no === permit.survey_no)
      .filter((row) => !isVoid(bundle, row))
      .map((row) => ({
        act: row.act as SignatureAct,
        personId: row.person_id,
        signedAt: at(row.at),
      })),
    voidedActs: bundle.signatures
      .filter((row) => isVoid(bundle, row))
      .map((row) => row.act as SignatureAct),
    gasTests: bundle.gas_tests.map((row) => ({
      takenAt: at(row.at),
      oxygenPct: row.oxygen_pct,
      lelPct: row.lel_pct,
      coPpm: row.co_ppm,
      h2sPpm: row.h2s_ppm,
      oxygenCause: row.oxygen_cause,
      instrument: row.instrument,
      isInstrumentInDate: row.bump_tested_on >= day && row.calibrated_until >= day,
    })),
    watchStints: stintsOf(bundle.stints, 'fire_watch'),
    operatorStints: stintsOf(bundle.stints, 'operator'),
    rounds: bundle.rounds.map((row) => ({
      at: at(row.at),
      personId: row.person_id,
      posts: readRoundPosts(row.posts).map(({ name, answer, unscanned, scanned }) => ({
        post: name,
        answer,
        ...(scanned === undefined ? {} : { scanned }),
        ...(unscanned === undefined ? {} : { unscanned }),
      })),
    })),
    codedPosts: (frozen?.posts ?? []).flatMap(({ name, code }) =>
      code ? [{ post: name, code }] : [],
    ),
    openSpans: bundle.open_spans.map((row) => ({ from: at(row.from_at), to: instant(row.to_at) })),
    impairments: (frozen?.impairments ?? []).map((one) => ({
      ...one,
      restoredAt: instant(restored.get(one.id) ?? null),
    })),
    monitoredAt: lastEventAt(events, 'monitored'),
    monitoringChecksAt: events
      .filter((event) => event.kind === 'monitored')
      .map((event) => at(event.at)),
    surveyedAt: lastEventAt(events, 'surveyed'),
    finalLookAt: lastEventAt(events, 'final_look'),
    statementAt: lastEventAt(events, 'statement'),
  }
}
