// Databases and the runtime role, as the owner.
import pg from 'pg'
import {
  databaseName,
  databaseUrl,
  RUNTIME_ROLE,
  runtimePassword,
  runtimeUrl,
  SESSION_OPTIONS,
} from './urls.mjs'

const DUPLICATE_DATABASE = '42P04'
const DUPLICATE_OBJECT = '42710'
const UNIQUE_VIOLATION = '23505'

/** Runs `work` with one connection as the owner. */
export async function withClient(url, work) {
  const client = new pg.Client({ connectionString: url, options: SESSION_OPTIONS })
  client.on('error', () => {})
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

const quoted = (name) => pg.escapeIdentifier(name)

/** Creates the database if there is none, and returns the owner's address of it. */
export async function createDatabase(ownerUrl, name) {
  await withClient(ownerUrl, (client) => client.query(`CREATE DATABASE ${quoted(name)}`)).catch(
    (error) => {
      if (error.code !== DUPLICATE_DATABASE && error.code !== UNIQUE_VIOLATION) throw error
    },
  )
  return databaseUrl(ownerUrl, name)
}

/** Removes a database of our own making, with whoever is still connected. */
export async function dropDatabase(ownerUrl, name) {
  if (!name.startsWith('kerfwatch'))
    throw new Error(`Refused: ${name} is not a database of this project`)
  await withClient(ownerUrl, (client) =>
    client.query(`DROP DATABASE IF EXISTS ${quoted(name)} WITH (FORCE)`),
  )
}

/** Copies a migrated database under a new name, and returns the owner's address of the copy. */
export async function templateDatabase(ownerUrl, template, name) {
  await withClient(ownerUrl, (client) =>
    client.query(`CREATE DATABASE ${quoted(name)} TEMPLATE ${quoted(template)}`),
  )
  return databaseUrl(ownerUrl, name)
}

async function canSignIn(url) {
  try {
    await withClient(url, (client) => client.query('SELECT 1'))
    return true
  } catch {
    return false
  }
}

/** Makes sure that the role the web process uses exists, may sign in, and owns nothing. */
export async function ensureRuntimeRole(ownerUrl) {
  const attributes = 'LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION NOBYPASSRLS'
  const password = pg.escapeLiteral(runtimePassword(ownerUrl))
  await withClient(ownerUrl, async (client) => {
    const { rowCount } = await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [
      RUNTIME_ROLE,
    ])
    if (!rowCount) {
      await client
        .query(`CREATE ROLE ${RUNTIME_ROLE} ${attributes} PASSWORD ${password}`)
        .catch((error) => {
          if (error.code !== DUPLICATE_OBJECT && error.code !== UNIQUE_VIOLATION) throw error
        })
    }
    if (await canSignIn(runtimeUrl(ownerUrl))) return
    await client.query(`ALTER ROLE ${RUNTIME_ROLE} LOGIN PASSWORD ${password}`)
  })
}

/** Whether the database answers; its name and server for messages. */
export async function describeServer(ownerUrl) {
  return withClient(ownerUrl, async (client) => {
    const { rows } = await client.query('SHOW server_version')
    return { version: rows[0].server_version, database: databaseName(ownerUrl) }
  })
}
