import { v7 as uuidv7 } from 'uuid'
import { describe, expect, test } from 'vitest'
import { db as prisma } from '@/lib/data/client'
import { loadPermitContext } from '@/lib/data/permits/context'
import { withdrawStop } from '@/lib/data/permits/stop'
import { getPosted } from '@/lib/data/watch/posted'
import { withPostedCode } from '@/lib/data/watch/posted-code'
import { reportSmoke, stopByCode, stopWork } from '@/lib/data/watch/stop'
import { withdrawStopSchema } from '@/lib/schemas/permit'
import { postedStopSchema, smokeSchema, stopSchema } from '@/lib/schemas/watch'
import { buildOpenPermit, buildPreparedPermit, buildWatchPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { PIN, permitRow, viewerOf, viewersOf } from './permit-world'
import { kindsOf } from './watch-world'

const db = () => testDatabase().owner
const pressed = (step: 'hold' | 'stop', key = uuidv7()) => stopSchema.parse({ key, step })
const byCode = (step: 'hold' | 'stop') => postedStopSchema.parse({ step })

describe('stop work', () => {
  test('holds at the first press, by anybody at the site, an auditor too', async () => {
    const built = await buildOpenPermit(db())
    const auditor = viewerOf(built.team.pai, built.site.id, 'auditor')
    const answer = await stopWork(auditor, built.permit.id, pressed('hold'))
    expect(answer).toMatchObject({ state: 'held', watchMinutes: 60 })
    expect(answer.rang.map((one) => one.name)).toEqual(
      expect.arrayContaining([
        built.team.operator.name,
        built.team.fireWatch.name,
        built.team.foreman.name,
      ]),
    )
    expect(await permitRow(built.permit.id)).toMatchObject({
      state: 'held',
      stop_pressed_at: expect.any(Date),
      stopped_at: null,
    })
  })

  test('answers until when there is to be watched as lib/permit counts it, rounds and smoke included', async () => {
    const built = await buildWatchPermit(db())
    const { operator } = viewersOf(built)
    const counted = async () => {
      const { watch, duties } = await loadPermitContext(prisma, built.permit.id)
      const until = watch?.doneAt ?? watch?.endsAtIfWatched
      return { minutes: duties.watchMin, untilMs: until?.getTime() ?? Number.NaN }
    }
    const acts = [
      () => stopWork(operator, built.permit.id, pressed('hold')),
      () => reportSmoke(operator, built.permit.id, smokeSchema.parse({ key: uuidv7() })),
      () => stopWork(operator, built.permit.id, pressed('stop')),
    ]
    for (const act of acts) {
      const answer = await act()
      const { minutes, untilMs } = await counted()
      expect(answer.watchMinutes).toBe(minutes)
      expect(Math.abs((answer.watchUntilMs ?? 0) - untilMs)).toBeLessThan(5_000) // read one after the other
    }
  })

  test('is one record however often the same press is sent, and final only at the second step', async () => {
    const built = await buildOpenPermit(db())
    const { operator } = viewersOf(built)
    const press = pressed('hold')
    const answers = await Promise.all(
      [1, 2, 3].map(() => stopWork(operator, built.permit.id, press)),
    )
    expect(new Set(answers.map((one) => one.atMs)).size).toBe(1)
    expect((await kindsOf(built.permit.id)).filter((kind) => kind === 'held')).toHaveLength(1)
    const final = await stopWork(operator, built.permit.id, pressed('stop'))
    expect(final.state).toBe('watch')
    expect((await permitRow(built.permit.id)).stopped_at).not.toBeNull()
    expect((await stopWork(operator, built.permit.id, pressed('stop'))).state).toBe('watch')
    expect((await kindsOf(built.permit.id)).filter((kind) => kind === 'stopped')).toHaveLength(1)
  })

  test('works in two steps before the permit is open and on the watch', async () => {
    const preparing = await buildPreparedPermit(db())
    const before = viewersOf(preparing).fireWatch
    expect((await stopWork(before, preparing.permit.id, pressed('hold'))).state).toBe('preparing')
    expect((await stopWork(before, preparing.permit.id, pressed('stop'))).state).toBe('withdrawn')
    const watched = await buildWatchPermit(db())
    const { pai } = viewersOf(watched)
    expect((await stopWork(pai, watched.permit.id, pressed('hold'))).state).toBe('watch')
    expect((await permitRow(watched.permit.id)).stopped_at).toBeNull()
    await stopWork(pai, watched.permit.id, pressed('stop'))
    expect((await permitRow(watched.permit.id)).stopped_at).not.toBeNull()
  })

  test('is taken back only by the operator or a foreman with their PIN, and the press stays in the record', async () => {
    const built = await buildOpenPermit(db())
    const { operator, fireWatch } = viewersOf(built)
    await stopWork(fireWatch, built.permit.id, pressed('hold'))
    const back = (personId: string, pin = PIN) =>
      withdrawStopSchema.parse({ key: uuidv7(), permitId: built.permit.id, personId, pin })
    await expect(withdrawStop(operator, back(built.team.fireWatch.id))).rejects.toMatchObject({
      code: 'PERMIT_REFUSED',
    })
    await expect(
      withdrawStop(operator, back(built.team.operator.id, '000000')),
    ).rejects.toMatchObject({ code: 'PIN_WRONG' })
    await withdrawStop(operator, back(built.team.operator.id))
    expect(await permitRow(built.permit.id)).toMatchObject({ state: 'held', stop_pressed_at: null })
    expect((await kindsOf(built.permit.id)).slice(-2)).toEqual(['held', 'stop_withdrawn'])
  })

  test('of another site is not there', async () => {
    const [mine, theirs] = [await buildOpenPermit(db()), await buildOpenPermit(db())]
    const stranger = viewersOf(theirs).foreman
    await expect(stopWork(stranger, mine.permit.id, pressed('hold'))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    await expect(
      reportSmoke(stranger, mine.permit.id, smokeSchema.parse({ key: uuidv7() })),
    ).rejects.toMatchObject({ code: 'NOT_FOUND' })
    expect((await permitRow(mine.permit.id)).state).toBe('open')
  })
})

describe('the posted code', () => {
  test('stops without anybody signed in, once however often it is pressed', async () => {
    const built = await buildOpenPermit(db())
    const code = built.permit.stopCode
    expect(await getPosted(code)).toMatchObject({ state: 'open', areaName: built.area.name })
    expect((await stopByCode(code, byCode('hold'))).rang).toEqual([])
    await stopByCode(code, byCode('hold'))
    await stopByCode(code, byCode('stop'))
    await stopByCode(code, byCode('stop'))
    const { rows } = await db().query(
      "SELECT kind, person_id, role_then FROM permit_events WHERE permit_id = $1 AND kind IN ('held', 'stopped') ORDER BY seq",
      [built.permit.id],
    )
    expect(rows).toEqual([
      { kind: 'held', person_id: null, role_then: 'posted_code' },
      { kind: 'stopped', person_id: null, role_then: 'posted_code' },
    ])
  })

  test('shows nothing of the people on the permit', async () => {
    const built = await buildOpenPermit(db())
    const shown = JSON.stringify(await getPosted(built.permit.stopCode))
    for (const person of [built.team.operator, built.team.fireWatch, built.team.pai])
      expect(shown).not.toContain(person.name)
  })

  test('may be guessed only so often from one address, and a right one clears the count', async () => {
    const built = await buildOpenPermit(db())
    const wrong = (address: string) => withPostedCode({ code: 'zzzzzzzzzzzz', address }, getPosted)
    const right = (address: string) =>
      withPostedCode({ code: built.permit.stopCode, address }, getPosted)
    for (let one = 0; one < 29; one += 1)
      await expect(wrong('10.0.0.1')).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await right('10.0.0.1')
    for (let one = 0; one < 30; one += 1)
      await expect(wrong('10.0.0.1')).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(right('10.0.0.1')).rejects.toMatchObject({ code: 'TOO_MANY_TRIES' })
    await right('10.0.0.2')
  })
})

describe('smoke', () => {
  test('starts the watch over and rings who must know', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch } = viewersOf(built)
    const before = (await permitRow(built.permit.id)).torch_out_at as unknown as Date
    const report = smokeSchema.parse({ key: uuidv7() })
    const answer = await reportSmoke(fireWatch, built.permit.id, report)
    expect(answer.rang.map((one) => one.name)).toContain(built.team.pai.name)
    expect(await reportSmoke(fireWatch, built.permit.id, report)).toEqual(answer)
    const after = (await permitRow(built.permit.id)).torch_out_at as unknown as Date
    expect(after.getTime()).toBeGreaterThan(before.getTime())
    expect(
      (await kindsOf(built.permit.id)).filter((kind) => kind === 'watch_restarted'),
    ).toHaveLength(1)
  })

  test('under an open permit holds it first', async () => {
    const built = await buildOpenPermit(db())
    await reportSmoke(
      viewersOf(built).operator,
      built.permit.id,
      smokeSchema.parse({ key: uuidv7() }),
    )
    expect(await permitRow(built.permit.id)).toMatchObject({
      state: 'held',
      stop_pressed_at: expect.any(Date),
    })
  })
})
