// The first administrator of a company, or one who locked themselves out: made at the console, by its owner.
import { randomInt } from 'node:crypto'
import { hash } from '@node-rs/argon2'
import { v7 as uuidv7 } from 'uuid'
import { withClient } from './database.mjs'

const SIGNS = 'abcdefghjkmnpqrstuvwxyz23456789' // as lib/auth/once-password
const DAYS = 7
/** What binds most shops in the United States; an administrator changes it under Rules. */
const FIRST_RULESETS = ['us-osha-1910', 'us-ifc-2018', 'us-nfpa51b-2019']

const makePassword = () =>
  Array.from({ length: 3 }, () =>
    Array.from({ length: 4 }, () => SIGNS[randomInt(SIGNS.length)]).join(''),
  ).join('-')

async function makeFirstSite(client, name) {
  const { rows } = await client.query('SELECT zone FROM company LIMIT 1')
  const [company] = rows
  if (!company) throw new Error('There is no company yet: run npm start -- --empty first')
  const id = uuidv7()
  await client.query(
    `INSERT INTO sites (id, name, short_name, kind, zone, address, emergency_words)
     VALUES ($1, $2, left($2, 24), 'yard', $3, $4, $5)`,
    [
      id,
      name,
      company.zone,
      'Not entered yet',
      'Call the emergency number. What else to do here is not entered yet.',
    ],
  )
  for (const ruleset of FIRST_RULESETS)
    await client.query('INSERT INTO site_rulesets (id, site_id, ruleset_id) VALUES ($1, $2, $3)', [
      uuidv7(),
      id,
      ruleset,
    ])
}

async function personOf(client, { name, email, passwordHash }) {
  const until = `kerf_now() + interval '${DAYS} days'`
  const { rows } = await client.query(
    `UPDATE people SET password_hash = $2, pin_hash = NULL, disabled_at = NULL, password_once_until = ${until}
     WHERE email = $1 RETURNING id`,
    [email, passwordHash],
  )
  if (rows[0]) return { id: rows[0].id, isNew: false }
  const id = uuidv7()
  await client.query(
    `INSERT INTO people (id, name, email, password_hash, password_once_until) VALUES ($1, $2, $3, $4, ${until})`,
    [id, name, email, passwordHash],
  )
  return { id, isNew: true }
}

/**
 * An administrator of every site there is, with a password for one sign-in. Where there is no site
 * yet, the first is made, under the usual rulesets and with what is still to be entered.
 */
export async function makeAdministrator(ownerUrl, { name, email: typed, siteName }) {
  const email = typed.trim().toLowerCase()
  const oncePassword = makePassword()
  const passwordHash = await hash(oncePassword)
  return withClient(ownerUrl, async (client) => {
    await client.query('BEGIN')
    try {
      await client.query(
        `SELECT set_config('kerf.actor_role', 'system', true), set_config('kerf.act', 'console:administrator', true)`,
      )
      const { rowCount } = await client.query('SELECT 1 FROM sites LIMIT 1')
      if (!rowCount) await makeFirstSite(client, siteName)
      const { id, isNew } = await personOf(client, { name, email, passwordHash })
      const { rows: sites } = await client.query(
        `SELECT s.id, s.name FROM sites s WHERE NOT EXISTS (
           SELECT 1 FROM grants g WHERE g.site_id = s.id AND g.person_id = $1
             AND g.role = 'administrator' AND g.revoked_at IS NULL)
         ORDER BY s.name`,
        [id],
      )
      for (const site of sites)
        await client.query(
          "INSERT INTO grants (id, person_id, site_id, role) VALUES ($1, $2, $3, 'administrator')",
          [uuidv7(), id, site.id],
        )
      await client.query('COMMIT')
      return { id, isNew, oncePassword, days: DAYS, given: sites.map((site) => site.name) }
    } catch (error) {
      await client.query('ROLLBACK')
      throw error
    }
  })
}
