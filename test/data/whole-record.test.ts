import { v7 as uuidv7 } from 'uuid'
import { expect, test } from 'vitest'
import { keepPicture } from '@/lib/data/pictures/pictures'
import { getWholeRecord } from '@/lib/data/records/whole'
import { pictureSchema } from '@/lib/schemas/picture'
import { buildPerson } from '../../seed/builders/people'
import { buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { pngOf } from '../setup/picture-bytes'
import { viewerOf, viewersOf } from './permit-world'

const db = () => testDatabase().owner

test('the record in one piece has every entry, who signed for what, the pictures, and the chain’s own hash', async () => {
  const built = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
  const { foreman } = viewersOf(built)
  const permitId = built.permit.id
  const file = pngOf(40, 30)
  const said = { key: uuidv7(), permitId, purpose: 'precaution', about: 'fire-watch' }
  await keepPicture(foreman, pictureSchema.parse(said), file)
  const whole = await getWholeRecord(foreman, permitId)

  const { rows } = await db().query(
    'SELECT seq::int AS seq, hash FROM audit_entries WHERE chain = $1 AND subject_id = $2 ORDER BY seq',
    [built.site.id, permitId],
  )
  expect(whole.proof).toEqual({
    first: rows[0].seq,
    last: rows.at(-1).seq,
    lastHash: rows.at(-1).hash,
    count: rows.length,
  })
  expect(whole.entries.map((entry) => entry.seq)).toEqual(
    expect.arrayContaining(rows.map((row) => row.seq)),
  )
  expect(whole.signatures.map(({ act }) => act)).toEqual(['agree', 'acknowledge', 'issue'])
  for (const one of whole.signatures) expect(one.contentHash).toMatch(/^[0-9a-f]{64}$/)
  expect(whole.pictures).toHaveLength(1)
  expect(Buffer.from(whole.pictures[0]?.bytes ?? []).equals(file)).toBe(true)
})

test('is for whoever may read the site’s records', async () => {
  const built = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
  const elsewhere = await buildSite(db())
  const person = await buildPerson(db(), { grants: [{ siteId: elsewhere.id, role: 'auditor' }] })
  await expect(
    getWholeRecord(viewerOf(person, elsewhere.id, 'auditor'), built.permit.id),
  ).rejects.toMatchObject({ code: 'NOT_FOUND' })
  const grants = [{ siteId: built.site.id, role: 'yard_hand' as const }]
  const yard = await buildPerson(db(), { grants })
  await expect(
    getWholeRecord(viewerOf(yard, built.site.id, 'yard_hand'), built.permit.id),
  ).rejects.toMatchObject({ code: 'FORBIDDEN' })
})
