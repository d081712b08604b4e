import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { answerClearance, clearPermit } from '@/lib/data/permits/clearance'
import { getClearance } from '@/lib/data/permits/clearance-view'
import { getDrawing, keepDrawing } from '@/lib/data/permits/drawing'
import { holdPermit, resumePermit } from '@/lib/data/permits/hold'
import { issuePermit } from '@/lib/data/permits/issue'
import { keepPicture, listPictures, readPicture } from '@/lib/data/pictures/pictures'
import type { AreaDrawing } from '@/lib/permit/drawing'
import { keepDrawingSchema } from '@/lib/schemas/drawing'
import {
  clearanceAnswerSchema,
  holdPermitSchema,
  permitStepSchema,
  resumePermitSchema,
} from '@/lib/schemas/permit'
import { pictureSchema } from '@/lib/schemas/picture'
import { buildPerson } from '../../seed/builders/people'
import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { jpegOf, pngOf } from '../setup/picture-bytes'
import { doorway, drawingOf, mark, pallets, sheet } from '../unit/permit/drawn'
import { asRuntime, refusal } from './invariants/world'
import {
  cleared,
  formOn,
  issued,
  issuing,
  PIN,
  prepared,
  refusedFor,
  signBoth,
  testAir,
  viewerOf,
  viewersOf,
  walk,
} from './permit-world'

let worksite: Worksite
let stranger: Viewer
const db = () => testDatabase().owner

beforeAll(async () => {
  worksite = await buildWorksite(db())
  const elsewhere = await buildSite(db())
  const person = await buildPerson(db(), { grants: [{ siteId: elsewhere.id, role: 'foreman' }] })
  stranger = viewerOf(person, elsewhere.id, 'foreman')
})

const input = (permitId: string, drawing: AreaDrawing, revision = 0) =>
  keepDrawingSchema.parse({
    key: uuidv7(),
    permitId,
    revision: String(revision),
    drawing: JSON.stringify(drawing),
  })
const pictureInput = (permitId: string, over: Record<string, string> = {}) =>
  pictureSchema.parse({ key: uuidv7(), permitId, purpose: 'plan', ...over })
const foreman = () => viewersOf(worksite).foreman

describe('the drawing of an area', () => {
  test('adds its precautions to the clearance, and a later one takes the place of it', async () => {
    const permitId = await prepared(worksite)
    const asked = async () =>
      (await getClearance(foreman(), permitId)).precautions.map(({ id }) => id)
    const before = await asked()
    expect(before).not.toContain('close-or-guard-openings')
    await keepDrawing(foreman(), input(permitId, drawingOf([doorway(35), pallets(10)])))
    expect(await asked()).toEqual(
      expect.arrayContaining([...before, 'close-or-guard-openings', 'relocate-combustibles-35ft']),
    )
    await keepDrawing(foreman(), input(permitId, drawingOf([pallets(40)]), 1))
    expect(await asked()).not.toContain('close-or-guard-openings')
    const view = await getDrawing(foreman(), permitId)
    expect(view).toMatchObject({ revision: 2, canDraw: true, keptBy: worksite.team.foreman.name })
    expect(view.drawing?.marks).toHaveLength(1)
  })

  test('refuses the area where it shows something that can be neither moved nor covered', async () => {
    const permitId = await prepared(worksite)
    const drawn = drawingOf([pallets(10, { state: 'unprotectable' })])
    await keepDrawing(foreman(), input(permitId, drawn))
    expect((await getClearance(foreman(), permitId)).waits).toContainEqual(
      expect.objectContaining({
        code: 'rules_refuse',
        params: expect.objectContaining({ why: 'combustible_unprotectable' }),
      }),
    )
  })

  test('is kept once a sending, and never over somebody else’s', async () => {
    const permitId = await prepared(worksite)
    const first = input(permitId, drawingOf([pallets(10)]))
    await keepDrawing(foreman(), first)
    await keepDrawing(foreman(), first)
    expect((await getDrawing(foreman(), permitId)).revision).toBe(1)
    await expect(keepDrawing(foreman(), input(permitId, drawingOf([]), 0))).rejects.toMatchObject({
      code: 'CONFLICT',
    })
    expect((await getDrawing(foreman(), permitId)).revision).toBe(1)
  })

  test('says what is not whole, everything at once', async () => {
    const permitId = await prepared(worksite)
    const drawn = drawingOf(
      [
        doorway(5, { opening: { kind: 'wall', exposes: null, canClose: false } }),
        pallets(5, {}, { sheetId: 'hold' }),
      ],
      [sheet('deck'), sheet('hold', -10, { column: null })],
    )
    await expect(keepDrawing(foreman(), input(permitId, drawn))).rejects.toMatchObject({
      code: 'DRAWING_UNFINISHED',
      reasons: [{ code: 'drawing_level_not_placed' }, { code: 'drawing_opening_unsaid' }],
    })
  })

  test('is another site’s to neither see nor change, nor of those who only look', async () => {
    const permitId = await prepared(worksite)
    await expect(getDrawing(stranger, permitId)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(keepDrawing(stranger, input(permitId, drawingOf([])))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    const { fireWatch } = viewersOf(worksite)
    expect((await getDrawing(fireWatch, permitId)).canDraw).toBe(false)
    await expect(keepDrawing(fireWatch, input(permitId, drawingOf([])))).rejects.toMatchObject({
      code: 'FORBIDDEN',
    })
  })

  test('is done with once the area is cleared', async () => {
    const permitId = await cleared(worksite)
    await expect(keepDrawing(foreman(), input(permitId, drawingOf([])))).rejects.toMatchObject({
      reasons: [{ code: 'WRONG_STATE' }],
    })
  })

  test('lends its levels and openings to the next permit of the area, nothing that can change', async () => {
    const permitId = await prepared(worksite)
    await keepDrawing(foreman(), input(permitId, drawingOf([doorway(5), pallets(10)])))
    const next = await getDrawing(foreman(), await prepared(worksite))
    expect(next.drawing).toBeNull()
    expect(next.fromBefore?.drawing.marks.map(({ kind }) => kind)).toEqual(['opening'])
    expect(next.fromBefore?.drawing.sheets[0]?.column).toBeNull()
  })
})

test('posts that were drawn are visited by the rounds of the permit', async () => {
  const own = await buildWorksite(db())
  const { foreman: boss } = viewersOf(own)
  const permitId = await prepared(own)
  await keepDrawing(boss, input(permitId, drawingOf([mark('watch_post', 8, { label: 'Hatch' })])))
  await walk(boss, own, permitId)
  await clearPermit(boss, permitStepSchema.parse(await formOn(permitId)))
  await testAir(boss, own, permitId)
  await signBoth(own, permitId)
  await issuePermit(boss, await issuing(own, permitId))
  const { rows: kept } = await db().query('SELECT frozen FROM permits WHERE id = $1', [permitId])
  expect(kept[0].frozen.duties.posts).toEqual([
    ...own.site.area.posts.map(({ name }) => name),
    'Hatch',
  ])
})

describe('pictures', () => {
  test('are kept with their hash and given back as they were cleaned', async () => {
    const permitId = await prepared(worksite)
    const file = pngOf(80, 60)
    const { pictureId, widthPx } = await keepPicture(foreman(), pictureInput(permitId), file)
    expect(widthPx).toBe(80)
    const back = await readPicture(viewersOf(worksite).fireWatch, pictureId)
    expect(back.mime).toBe('image/png')
    expect(Buffer.from(back.bytes).equals(file)).toBe(true)
    expect(await listPictures(permitId)).toMatchObject([{ id: pictureId, purpose: 'plan' }])
    const { rows } = await db().query(
      "SELECT payload FROM audit_entries WHERE table_name = 'pictures' AND subject_id = $1",
      [permitId],
    )
    expect(rows).toHaveLength(1)
    expect(rows[0].payload).toContain('sha256')
    expect(rows[0].payload.length).toBeLessThan(2000) // the hash stands in the chain, not the picture
  })

  test('of another site are not there', async () => {
    const permitId = await prepared(worksite)
    const { pictureId } = await keepPicture(foreman(), pictureInput(permitId), jpegOf(40, 30))
    await expect(readPicture(stranger, pictureId)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(
      keepPicture(stranger, pictureInput(permitId), jpegOf(40, 30)),
    ).rejects.toMatchObject({ code: 'NOT_FOUND' })
  })

  test('are refused when they are none, or too large for what they are for', async () => {
    const permitId = await prepared(worksite)
    await expect(
      keepPicture(foreman(), pictureInput(permitId), Buffer.from('<svg/>')),
    ).rejects.toMatchObject({ code: 'NOT_A_PICTURE' })
    const noise = Buffer.alloc(320_000, 7)
    const large = Buffer.concat([jpegOf(40, 30).subarray(0, -2), noise, Buffer.from([0xff, 0xd9])])
    await expect(
      keepPicture(foreman(), pictureInput(permitId, { purpose: 'answer' }), large),
    ).rejects.toMatchObject({ code: 'PICTURE_TOO_LARGE', params: { limitKb: 300 } })
    await keepPicture(foreman(), pictureInput(permitId), large)
  })

  test('can be neither swapped nor half kept, whatever the app does', async () => {
    const permitId = await prepared(worksite)
    const row = (id: string, sha256: string) =>
      `INSERT INTO pictures (id, site_id, permit_id, purpose, mime, width_px, height_px, byte_count, sha256, person_id, role_then)
       VALUES ('${id}', '${worksite.site.id}', '${permitId}', 'plan', 'image/png', 1, 1, 3, '${sha256}', '${worksite.team.foreman.id}', 'foreman')`
    const attempt = (...statements: string[]) =>
      refusal(
        asRuntime(testDatabase(), worksite.team.foreman.id, async (client) => {
          for (const sql of statements) await client.query(sql)
        }),
      )
    // SHA-256 of the three bytes "abc": FIPS 180-2, appendix B.1.
    const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
    const [half, other] = [uuidv7(), uuidv7()]
    expect((await attempt(row(half, abc))).codes).toEqual(['PICTURE_MISSING'])
    expect(
      (
        await attempt(
          row(other, abc),
          `INSERT INTO picture_bytes (picture_id, bytes) VALUES ('${other}', 'abd')`,
        )
      ).codes,
    ).toEqual(['PICTURE_DIFFERS'])
  })

  test('a plan of another area can’t stand behind a drawing', async () => {
    const { site } = worksite
    const foreign = await prepared({ ...worksite, site: { ...site, area: site.otherArea } })
    const { pictureId } = await keepPicture(foreman(), pictureInput(foreign), pngOf(8, 8))
    const permitId = await prepared(worksite)
    await expect(
      keepDrawing(foreman(), input(permitId, drawingOf([], [sheet('deck', 0, { pictureId })]))),
    ).rejects.toMatchObject({ reasons: [{ code: 'PLAN_OF_OTHER_AREA' }] })
  })
})

describe('a look during a hold that finds what forbids the work', () => {
  const held = async () => {
    const own = await buildWorksite(db())
    const { foreman: boss } = viewersOf(own)
    const permitId = await issued(own)
    const hold = { torchOut: 'yes', valvesShut: 'yes', reason: 'Lunch' }
    await holdPermit(boss, holdPermitSchema.parse({ ...(await formOn(permitId)), ...hold }))
    const resume = async () =>
      resumePermit(
        boss,
        resumePermitSchema.parse({
          ...(await formOn(permitId)),
          personId: own.team.pai.id,
          pin: PIN,
        }),
      )
    return { boss, permitId, resume }
  }
  const answerIn = (viewer: Viewer, permitId: string, typed: Record<string, string>) =>
    answerClearance(viewer, clearanceAnswerSchema.parse({ key: uuidv7(), permitId, ...typed }))

  test('by an answer, keeps it held', async () => {
    const { boss, permitId, resume } = await held()
    const neither = { item: 'burnables', choice: 'neither', what: 'Pallets', distance: '10' }
    await answerIn(boss, permitId, neither)
    await expect(resume()).rejects.toMatchObject(refusedFor('survey_blocked', 'rules_refuse'))
    await answerIn(boss, permitId, { item: 'burnables', choice: 'none' })
    await resume()
  })

  test('on the drawing, keeps it held', async () => {
    const { boss, permitId, resume } = await held()
    await answerIn(boss, permitId, { item: 'floor', choice: 'swept' })
    await keepDrawing(boss, input(permitId, drawingOf([pallets(10, { state: 'unprotectable' })])))
    await expect(resume()).rejects.toMatchObject(refusedFor('rules_refuse'))
    await keepDrawing(boss, input(permitId, drawingOf([pallets(10, { state: 'covered' })]), 1))
    await resume()
  })
})
