import { buildOpenPermit } from '../../seed/builders/permits'
import { pdfText } from '../setup/pdf-text'
import { expect, test } from './fixtures'

test('the record as a file says who signed, every entry, and the hash of the last', async ({
  app,
  page,
  signInAs,
}) => {
  const { permit, team, site } = await buildOpenPermit(app.owner)
  await signInAs(team.foreman.email)
  await page.goto(`/permits/${permit.id}/record`)
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Keep it as a file (PDF)' }).click(),
  ])
  expect(download.suggestedFilename()).toMatch(/^permit-.*\.pdf$/)
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(Buffer.from(part))
  const text = pdfText(Buffer.concat(parts)).replaceAll('\n', ' ')
  const { rows } = await app.owner.query<{ hash: string }>(
    'SELECT hash FROM audit_entries WHERE chain = $1 AND subject_id = $2 ORDER BY seq DESC LIMIT 1',
    [site.id, permit.id],
  )
  expect(text).toContain(rows[0]?.hash ?? 'none')
  for (const words of [team.pai.name, team.operator.name, 'PAI signed to issue', 'Proof'])
    expect(text, words).toContain(words)
})
