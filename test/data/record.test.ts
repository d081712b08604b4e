import { v7 as uuidv7 } from 'uuid'
import { describe, expect, test } from 'vitest'
import { checkChains } from '@/lib/data/chain-checks'
import { listRecords } from '@/lib/data/records/list'
import { getRecord } from '@/lib/data/records/record'
import { closePermit } from '@/lib/data/watch/close'
import { stopWork } from '@/lib/data/watch/stop'
import { recordFilterSchema } from '@/lib/schemas/record'
import { finalSignSchema, stopSchema } from '@/lib/schemas/watch'
import { buildOpenPermit, buildPreparedPermit, buildWatchPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { formOn, PIN, viewerOf, viewersOf } from './permit-world'

const db = () => testDatabase().owner
const all = (over: Record<string, string | null> = {}) =>
  recordFilterSchema.parse({ site: null, state: 'all', from: null, to: null, after: null, ...over })
const pressed = (step: 'hold' | 'stop') => stopSchema.parse({ key: uuidv7(), step })

describe('the record of a permit', () => {
  test('shows every entry as the chain holds it, with its number and code', async () => {
    const built = await buildOpenPermit(db())
    const { pai } = viewersOf(built)
    const record = await getRecord(pai, { permitId: built.permit.id, isAll: true, after: 0 })
    const { rows } = await db().query<{ seq: string; code: string }>(
      'SELECT seq, left(hash, 6) AS code FROM audit_entries WHERE chain = $1 AND subject_id = $2 ORDER BY seq',
      [built.site.id, built.permit.id],
    )
    expect(record.entries.map(({ seq, code }) => ({ seq: String(seq), code }))).toEqual(rows)
    const short = await getRecord(pai, { permitId: built.permit.id, isAll: false, after: 0 })
    expect(short.entries.map((entry) => entry.what)).toEqual([
      'event_prepared',
      'gas_tests',
      'event_cleared',
      'signature_agree',
      'signature_acknowledge',
      'event_issued',
    ])
    expect(short.entries.at(-1)?.who).toBe(built.team.pai.name)
    expect(short.timeline.spans.at(-1)?.pattern).toBe('open')
    expect(short.rules.find((rule) => rule.isSetter)?.minutes).toBe(60)
  })

  test('comes a page at a time without losing or repeating an entry', async () => {
    const built = await buildOpenPermit(db())
    const { pai } = viewersOf(built)
    for (let one = 0; one < 70; one += 1) await stopWork(pai, built.permit.id, pressed('hold'))
    const first = await getRecord(pai, { permitId: built.permit.id, isAll: false, after: 0 })
    expect(first.entries).toHaveLength(60)
    const second = await getRecord(pai, {
      permitId: built.permit.id,
      isAll: false,
      after: first.next ?? 0,
    })
    const numbers = [...first.entries, ...second.entries].map((entry) => entry.seq)
    expect(new Set(numbers).size).toBe(numbers.length)
    expect(second.next).toBeNull()
    expect(
      [...first.entries, ...second.entries].filter((entry) => entry.what === 'event_held'),
    ).toHaveLength(70)
  })

  test('keeps a closing that was refused beside the entries, and the verdict on the chain', async () => {
    const built = await buildWatchPermit(db())
    const { pai } = viewersOf(built)
    const early = finalSignSchema.parse({
      ...(await formOn(built.permit.id)),
      personId: built.team.pai.id,
      pin: PIN,
    })
    await expect(closePermit(pai, early)).rejects.toMatchObject({ code: 'PERMIT_REFUSED' })
    await checkChains()
    const record = await getRecord(viewerOf(built.team.pai, built.site.id, 'auditor'), {
      permitId: built.permit.id,
      isAll: false,
      after: 0,
    })
    const refused = record.entries.find((entry) => entry.what === 'refused')
    expect(refused).toMatchObject({ seq: null, who: built.team.pai.name, isTrouble: true })
    expect(refused?.reasons.map((one) => one.code)).toContain('watch_owed')
    expect(record.verdict).toMatchObject({ ok: true, firstBadSeq: null })
  })

  test('of another site is not there, and not for who may not read records', async () => {
    const [mine, theirs] = [await buildOpenPermit(db()), await buildOpenPermit(db())]
    const wanted = { permitId: mine.permit.id, isAll: false, after: 0 }
    await expect(getRecord(viewersOf(theirs).pai, wanted)).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    await expect(
      getRecord(viewerOf(mine.team.pai, mine.site.id, 'yard_hand'), wanted),
    ).rejects.toMatchObject({ code: 'NOT_FOUND' })
  })
})

describe('the list of records', () => {
  test("holds what is over at the viewer's sites alone, by state", async () => {
    const [mine, theirs] = [await buildPreparedPermit(db()), await buildPreparedPermit(db())]
    for (const built of [mine, theirs]) {
      await stopWork(viewersOf(built).foreman, built.permit.id, pressed('hold'))
      await stopWork(viewersOf(built).foreman, built.permit.id, pressed('stop'))
    }
    const { pai } = viewersOf(mine)
    const list = await listRecords(pai, all())
    expect(list.rows.map((row) => row.id)).toEqual([mine.permit.id])
    expect((await listRecords(pai, all({ state: 'stopped' }))).rows).toHaveLength(1)
    expect((await listRecords(pai, all({ state: 'withdrawn' }))).rows).toEqual([])
    expect((await listRecords(pai, all({ from: '2999-01-01' }))).rows).toEqual([])
    await expect(listRecords(pai, all({ site: theirs.site.id }))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    expect(list.verdicts.map((one) => one.chain)).toEqual([mine.site.id, 'company'])
  })
})
