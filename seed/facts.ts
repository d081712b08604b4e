import { escapeIdentifier, escapeLiteral } from 'pg'

/** What a column may be given. `null` is SQL's; an absent key leaves the column to its default. */
export type SqlValue =
  | string
  | number
  | boolean
  | null
  | Date
  | readonly string[]
  | readonly number[]
  | Json
/** A value for a jsonb column. */
export type Json = Readonly<{ json: unknown }>
export type Row = Readonly<Record<string, SqlValue>>

/** Who did it, in what role, doing what: what the audit chain writes beside the record. */
export type ActorThen = Readonly<{ personId: string | null; role: string; act: string }>

/** Rows inserted into one table at one moment by one person, or plain columns of one row changed. */
export type Fact = Readonly<{ atMs: number; by: ActorThen; table: string }> &
  (Readonly<{ rows: readonly Row[] }> | Readonly<{ id: string; set: Row }>)

const isJson = (value: SqlValue): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && 'json' in value

/** A value as SQL text; every string passes the driver's own escaping. */
export function sqlLiteral(value: SqlValue): string {
  if (value === null) return 'NULL'
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE'
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new Error('a number of the seed is not finite')
    return String(value)
  }
  if (typeof value === 'string') return escapeLiteral(value)
  if (value instanceof Date) return `${escapeLiteral(value.toISOString())}::timestamptz`
  if (isJson(value)) return `${escapeLiteral(JSON.stringify(value.json))}::jsonb`
  return `ARRAY[${value.map(sqlLiteral).join(',')}]`
}

/** `INSERT` of rows that all name the same columns. */
export function insertSql(table: string, rows: readonly Row[]): string {
  const first = rows[0]
  if (!first) throw new Error(`no rows for ${table}`)
  const columns = Object.keys(first)
  const values = rows.map((row) => {
    if (Object.keys(row).length !== columns.length)
      throw new Error(`rows of ${table} differ in their columns`)
    return `(${columns.map((column) => sqlLiteral(row[column] ?? null)).join(',')})`
  })
  return `INSERT INTO ${escapeIdentifier(table)} (${columns.map(escapeIdentifier).join(',')}) VALUES ${values.join(',')}`
}

function updateSql(table: string, id: string, set: Row): string {
  const changes = Object.entries(set).map(
    ([column, value]) => `${escapeIdentifier(column)} = ${sqlLiteral(value)}`,
  )
  return `UPDATE ${escapeIdentifier(table)} SET ${changes.join(', ')} WHERE id = ${sqlLiteral(id)}`
}

/** The statement that records a fact. */
export function factSql(fact: Fact): string {
  return 'rows' in fact
    ? insertSql(fact.table, fact.rows)
    : updateSql(fact.table, fact.id, fact.set)
}

/** The settings that the audit triggers read; they end with the transaction. */
export function actorSql(by: ActorThen): string {
  return `SELECT set_config('kerf.actor_id', ${sqlLiteral(by.personId ?? '')}, true), set_config('kerf.actor_role', ${sqlLiteral(by.role)}, true), set_config('kerf.act', ${sqlLiteral(by.act)}, true)`
}
