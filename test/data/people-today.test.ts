import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { assignPeople, cancelAssignment, receiveVisitor, visitorLeft } from '@/lib/data/assignments'
import { keepEvidence, readEvidence } from '@/lib/data/evidence'
import { getPeopleToday } from '@/lib/data/people-today'
import { tellOfEnds } from '@/lib/data/qualification-ends'
import { getPersonPapers } from '@/lib/data/qualifications'
import { inTransaction, SYSTEM } from '@/lib/data/tx'
import { endStage } from '@/lib/permit/people-today'
import { assignSchema } from '@/lib/schemas/assignment'
import { testDatabase } from '../setup/database'
import { pngOf } from '../setup/picture-bytes'
import { insert, newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

const DAY_MS = 86_400_000
let siteId: string
let otherSiteId: string
let administrator: Viewer
let foreman: Viewer
let hand: Viewer
let today: string

const day = (days: number) =>
  new Date(Date.parse(`${today}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10)

async function qualify(personId: string, kind: string, until: number): Promise<string> {
  const id = uuidv7()
  await insert('qualifications', {
    id,
    person_id: personId,
    kind,
    valid_from: day(-400),
    valid_until: day(until),
    evidence: 'Card 118',
  })
  return id
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  otherSiteId = await newSite()
  administrator = await newViewer(siteId, 'administrator')
  foreman = await newViewer(siteId, 'foreman')
  today = (await getPeopleToday(foreman, siteId)).day
})
beforeEach(async () => {
  hand = await newViewer(siteId, 'operator')
  await rowsOf("UPDATE people SET pin_hash = 'set' WHERE id = $1", [hand.personId])
})

const operating = async () =>
  (await getPeopleToday(foreman, siteId)).duties.operate.find((one) => one.id === hand.personId)
const assign = (over: object = {}, by = foreman) =>
  assignPeople(
    by,
    assignSchema.parse({
      key: uuidv7(),
      siteId,
      who: `person ${hand.personId}`,
      from: today,
      to: today,
      ...over,
    }),
  )

describe('the days after today', () => {
  test('show who is put to the site on each, until somebody is taken off', async () => {
    const later = (days: number) =>
      new Date(Date.parse(`${today}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10)
    await assign({ to: later(2) })
    const coming = async () => (await getPeopleToday(foreman, siteId)).coming
    const shown = await coming()
    expect(shown.map(({ day, assigned }) => [day, assigned.length])).toEqual([
      [later(1), 1],
      [later(2), 1],
    ])
    await cancelAssignment(foreman, {
      key: uuidv7(),
      assignmentId: shown[0]?.assigned[0]?.id ?? '',
    })
    expect((await coming()).map(({ day }) => day)).toEqual([later(2)])
  })
})

describe('who may do what today', () => {
  test('goes by the qualification on the site’s own day', async () => {
    expect(await operating()).toMatchObject({ may: false, reasons: ['notQualified'] })
    await qualify(hand.personId, 'torch_operator', 0)
    expect(await operating()).toMatchObject({ may: true, reasons: [] })
    await testDatabase().setClock(2 * DAY_MS)
    expect(await operating()).toMatchObject({ may: false, reasons: ['notQualified'] })
    await testDatabase().setClock(0)
  })

  test('says all that stands against somebody at once', async () => {
    await rowsOf('UPDATE people SET pin_hash = NULL, disabled_at = kerf_now() WHERE id = $1', [
      hand.personId,
    ])
    expect((await operating())?.reasons).toEqual(['shutOut', 'noPin', 'notQualified'])
  })

  test('is shut to who may not read people there', async () => {
    await expect(getPeopleToday(hand, siteId)).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(getPeopleToday(foreman, otherSiteId)).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

describe('an assignment', () => {
  test('puts somebody to a site day by day, once each, and stands in the site’s record', async () => {
    expect(await assign({ to: day(2) })).toEqual({ added: 3 })
    expect(await assign({ from: day(1), to: day(3) })).toEqual({ added: 1 })
    const entries = await rowsOf<{ chain: string }>(
      "SELECT chain FROM audit_entries WHERE subject_id = $1 AND act = 'people:assign'",
      [hand.personId],
    )
    expect(entries.map((entry) => entry.chain)).toEqual([siteId, siteId, siteId, siteId])
  })

  test('is noted of who is put elsewhere, and of who is not put here while others are', async () => {
    await qualify(hand.personId, 'torch_operator', 100)
    await assign({ who: `person ${foreman.personId}` })
    expect((await operating())?.note).toBe('notAssigned')
    await insert('grants', {
      id: uuidv7(),
      person_id: hand.personId,
      site_id: otherSiteId,
      role: 'operator',
    })
    await assign({ siteId: otherSiteId }, await newViewer(otherSiteId, 'foreman'))
    expect(await operating()).toMatchObject({ may: true, note: 'assignedElsewhere' })
    await assign()
    expect((await operating())?.note).toBeNull()
  })

  test('is taken back once', async () => {
    await assign()
    const list = async () => (await getPeopleToday(foreman, siteId)).assigned.map((one) => one.id)
    const [mine] = await rowsOf<{ id: string }>('SELECT id FROM assignments WHERE person_id = $1', [
      hand.personId,
    ])
    const assignmentId = mine?.id ?? ''
    expect(await list()).toContain(assignmentId)
    await cancelAssignment(foreman, { key: uuidv7(), assignmentId })
    expect(await list()).not.toContain(assignmentId)
    await expect(cancelAssignment(foreman, { key: uuidv7(), assignmentId })).rejects.toEqual(
      refusal('CONFLICT'),
    )
    expect(await assign()).toEqual({ added: 1 })
  })

  test('of a crew takes those of it who have a role at the site; an empty crew is refused', async () => {
    const crewId = uuidv7()
    await insert('crews', { id: crewId, site_id: siteId, name: `Crew ${crewId}` })
    await expect(assign({ who: `crew ${crewId}` })).rejects.toEqual(refusal('CREW_EMPTY'))
    const stranger = await newViewer(otherSiteId, 'operator')
    for (const { personId } of [hand, stranger])
      await insert('crew_members', {
        id: uuidv7(),
        crew_id: crewId,
        person_id: personId,
        from_date: today,
      })
    expect(await assign({ who: `crew ${crewId}` })).toEqual({ added: 1 })
  })

  test('of another site’s crew is not there', async () => {
    const crewId = uuidv7()
    await insert('crews', { id: crewId, site_id: otherSiteId, name: `Crew ${crewId}` })
    await expect(assign({ who: `crew ${crewId}` })).rejects.toEqual(refusal('NOT_FOUND'))
  })

  test.each([
    [{ from: '2026-03-02', to: '2026-03-01' }, 'ENDS_BEFORE_START'],
    [{ from: '2026-03-01', to: '2026-04-01' }, 'MONTH_AT_MOST'],
  ])('of %o is refused as %s', (days, code) => {
    const typed = { key: uuidv7(), siteId, who: `person ${uuidv7()}`, ...days }
    expect(assignSchema.safeParse(typed).error?.issues[0]?.message).toBe(code)
  })
})

describe('a visitor', () => {
  const visit = (hostId: string) => ({
    key: uuidv7(),
    siteId,
    name: 'Vera Guest',
    firm: 'Salt Ridge Insurance',
    purpose: 'Looks at the crane',
    hostId,
    isTold: 'yes' as const,
  })

  test('is on the site until they have left, which is said once', async () => {
    const { id: visitorId } = await receiveVisitor(foreman, visit(foreman.personId))
    const row = async () =>
      (await getPeopleToday(foreman, siteId)).visitors.find((one) => one.id === visitorId)
    expect(await row()).toMatchObject({ name: 'Vera Guest', leftAt: null })
    await visitorLeft(foreman, { key: uuidv7(), visitorId })
    expect((await row())?.leftAt).toBeInstanceOf(Date)
    await expect(visitorLeft(foreman, { key: uuidv7(), visitorId })).rejects.toEqual(
      refusal('CONFLICT'),
    )
  })

  test('goes with somebody of the site', async () => {
    const stranger = await newViewer(otherSiteId, 'foreman')
    await expect(receiveVisitor(foreman, visit(stranger.personId))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })
})

describe('the paper of a qualification', () => {
  const pdf = Buffer.from('%PDF-1.4\n1 0 obj <<>> endobj\ntrailer <<>>\n%%EOF\n')
  const keep = async (file: Buffer, by = administrator) =>
    keepEvidence(
      by,
      { key: uuidv7(), qualificationId: await qualify(hand.personId, 'pai', 50) },
      file,
    )

  test.each([
    ['image/png', pngOf(8, 8)],
    ['application/pdf', pdf],
  ])('is kept as the %s that it is, and read by who may read people', async (mime, file) => {
    const { fileId } = await keep(file)
    const kept = await readEvidence(foreman, fileId)
    expect(kept.mime).toBe(mime)
    expect(Buffer.from(kept.bytes).equals(file)).toBe(true)
    const papers = await getPersonPapers(foreman, hand.personId)
    expect(papers.qualifications[0]?.files.map((one) => one.id)).toEqual([fileId])
  })

  test.each([
    ['a web page that says it is a PDF later', Buffer.from('<html>%PDF-1.4 %%EOF')],
    ['a PDF that broke off', pdf.subarray(0, 30)],
    ['nothing', Buffer.alloc(0)],
  ])('is not %s', async (_what, file) => {
    await expect(keep(file)).rejects.toEqual(refusal('NOT_A_PAPER'))
  })

  test('is not larger than its limit', async () => {
    const large = Buffer.concat([Buffer.from('%PDF-1.7\n'), Buffer.alloc(2_000_001, 32), pdf])
    await expect(keep(large)).rejects.toEqual(refusal('PAPER_TOO_LARGE'))
  })

  test('is shut to another site and to who may not write people', async () => {
    const { fileId } = await keep(pdf)
    const elsewhere = await newViewer(otherSiteId, 'administrator')
    await expect(readEvidence(elsewhere, fileId)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(keep(pdf, elsewhere)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(keep(pdf, foreman)).rejects.toEqual(refusal('FORBIDDEN'))
  })

  test('never differs from its row, nor stands without it: the database refuses', async () => {
    const { fileId } = await keep(pdf)
    const runtime = testDatabase().runtime
    await expect(
      runtime.query("UPDATE evidence_bytes SET bytes = 'x' WHERE file_id = $1", [fileId]),
    ).rejects.toMatchObject({ code: '42501' })
    const lone = {
      id: uuidv7(),
      qualification_id: await qualify(hand.personId, 'pai', 9),
      mime: 'image/png',
      byte_count: 3,
      sha256: 'a'.repeat(64),
      recorded_by: administrator.personId,
    }
    await expect(insert('evidence_files', lone)).rejects.toMatchObject({ code: 'KW004' })
  })
})

describe('the end of a qualification', () => {
  const told = async (viewer: Viewer) =>
    rowsOf<{ stage: string }>(
      "SELECT data ->> 'stage' AS stage FROM notices WHERE person_id = $1 AND subject_id = $2 AND kind = 'qualification_ends' ORDER BY at",
      [viewer.personId, hand.personId],
    )
  const tell = () => inTransaction(SYSTEM, 'people:ends', tellOfEnds)

  test.each([90, 61, 60, 45, 30, 8, 7, 0, -1])(
    'with %i days left is told as the pure rule says, to the holder and who plans, once',
    async (left) => {
      await qualify(hand.personId, 'torch_operator', left)
      await tell()
      await tell()
      const stage = endStage(left)
      const expected = stage === null ? [] : [{ stage: String(stage) }]
      expect(await told(hand)).toEqual(expected)
      expect(await told(foreman)).toEqual(expected)
    },
  )

  test('is not told where a later one takes over', async () => {
    await qualify(hand.personId, 'torch_operator', 5)
    await qualify(hand.personId, 'torch_operator', 300)
    await tell()
    expect(await told(hand)).toEqual([])
  })
})
