import pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import { COMPANY_LAYER } from '@/lib/rules/layers'
import { playNow } from './play'
import { writeSetUp } from './records/scribe'
import { insertReference } from './reference'

export type EmptyCompany = Readonly<{ name: string; zone: string; currency: string }>

/** A company with nobody in it: reference tables, its name and zone, the house's own layer. False where there is one. */
export async function seedEmpty(ownerUrl: string, company: EmptyCompany): Promise<boolean> {
  const client = new pg.Client({ connectionString: ownerUrl, options: '-c timezone=UTC' })
  await client.connect()
  try {
    await insertReference(client)
    const { rowCount } = await client.query('SELECT 1 FROM company LIMIT 1')
    if (rowCount) return false
    await playNow(client, (scribe) => {
      writeSetUp(scribe, 0, 'company', { id: uuidv7(), ...company })
      writeSetUp(scribe, 0, 'company_layers', {
        id: uuidv7(),
        params: { json: COMPANY_LAYER.parameters },
        citation: COMPANY_LAYER.citation,
      })
    })
    return true
  } finally {
    await client.end()
  }
}
