import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { addInstrument, checkInstrument, getInstruments } from '@/lib/data/instruments'
import { addInstrumentSchema, checkInstrumentSchema } from '@/lib/schemas/instrument'
import { buildPerson } from '../../seed/builders/people'
import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { cleared, siteTime, testAir, viewerOf, viewersOf } from './permit-world'

let worksite: Worksite
let stranger: Viewer
let today: string
const db = () => testDatabase().owner
const foreman = () => viewersOf(worksite).foreman

beforeAll(async () => {
  worksite = await buildWorksite(db())
  const elsewhere = await buildSite(db())
  const person = await buildPerson(db(), { grants: [{ siteId: elsewhere.id, role: 'foreman' }] })
  stranger = viewerOf(person, elsewhere.id, 'foreman')
  today = (await siteTime(worksite.site.zone, 0)).day
})

const added = async (name = `GX-${uuidv7()}`) => {
  const typed = { key: uuidv7(), siteId: worksite.site.id, name, model: 'Four-gas' }
  const { id } = await addInstrument(foreman(), addInstrumentSchema.parse(typed))
  return { id, name }
}
const check = (instrumentId: string, over: Record<string, string> = {}) =>
  checkInstrument(
    foreman(),
    checkInstrumentSchema.parse({
      ...{ key: uuidv7(), instrumentId, kind: 'bump', onDay: today, passed: 'yes' },
      ...over,
    }),
  )
const calibrated = (id: string, validUntil: string) =>
  check(id, { kind: 'calibration', validUntil })
const airBy = (permitId: string, instrumentId: string) =>
  testAir(foreman(), worksite, permitId, {
    ...{ instrumentId, instrument: '', bumpTestedOn: '', calibratedUntil: '' },
  })
const isReady = async (id: string) =>
  (await getInstruments(foreman(), worksite.site.id)).instruments.find((one) => one.id === id)
    ?.isReady

describe('a gas test by an instrument on record', () => {
  test('takes name and days from its records, whatever a form says', async () => {
    const { id, name } = await added()
    await check(id)
    await calibrated(id, '2099-01-01')
    expect(await isReady(id)).toBe(true)
    const permitId = await cleared(worksite)
    await testAir(foreman(), worksite, permitId, {
      ...{ instrumentId: id, instrument: 'Borrowed', calibratedUntil: '2199-01-01' },
    })
    const { rows } = await db().query(
      'SELECT instrument, bump_tested_on::text AS bump, calibrated_until::text AS until FROM gas_tests WHERE permit_id = $1',
      [permitId],
    )
    expect(rows).toEqual([{ instrument: name, bump: today, until: '2099-01-01' }])
  })

  test('is refused with everything that the instrument has not passed', async () => {
    const { id } = await added()
    const permitId = await cleared(worksite)
    await expect(airBy(permitId, id)).rejects.toMatchObject({
      reasons: [{ code: 'INSTRUMENT_NOT_BUMPED' }, { code: 'INSTRUMENT_NOT_CALIBRATED' }],
    })
    await check(id)
    await calibrated(id, today)
    await airBy(permitId, id)
    await check(id, { passed: 'no', note: 'Read 12 % in 20 % LEL gas' })
    expect(await isReady(id)).toBe(false)
    await expect(airBy(permitId, id)).rejects.toMatchObject({
      reasons: [{ code: 'INSTRUMENT_NOT_BUMPED' }],
    })
  })

  test('of another site is unknown there', async () => {
    const other = await buildWorksite(db())
    const permitId = await cleared(other)
    const { id } = await added()
    await expect(
      testAir(viewersOf(other).foreman, other, permitId, { instrumentId: id }),
    ).rejects.toMatchObject({ reasons: [{ code: 'INSTRUMENT_UNKNOWN' }] })
  })
})

test('a name stands once a site, a check is never of a day to come, and a calibration says until when', async () => {
  const { id, name } = await added()
  await expect(added(name)).rejects.toMatchObject({ code: 'INSTRUMENT_KNOWN' })
  await expect(check(id, { onDay: '2099-01-01' })).rejects.toMatchObject({
    reasons: [{ code: 'CHECK_IN_FUTURE' }],
  })
  const open = { key: uuidv7(), instrumentId: id, kind: 'calibration', onDay: today, passed: 'yes' }
  expect(checkInstrumentSchema.safeParse(open).success).toBe(false)
})

test('another site’s instruments are not there, and a fire watch records nothing', async () => {
  const { id } = await added()
  await expect(getInstruments(stranger, worksite.site.id)).rejects.toMatchObject({
    code: 'NOT_FOUND',
  })
  const typed = { key: uuidv7(), instrumentId: id, kind: 'bump', onDay: today, passed: 'yes' }
  await expect(checkInstrument(stranger, checkInstrumentSchema.parse(typed))).rejects.toMatchObject(
    { code: 'NOT_FOUND' },
  )
  const { fireWatch } = viewersOf(worksite)
  await expect(
    checkInstrument(fireWatch, checkInstrumentSchema.parse(typed)),
  ).rejects.toMatchObject({ code: 'FORBIDDEN' })
})
