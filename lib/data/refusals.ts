import 'server-only'
import { AppError, type Reason } from '@/lib/errors'

type DriverCause = Readonly<{
  originalCode?: string
  originalMessage?: string
  kind?: string
  detail?: string
  constraint?: { index?: string; fields?: string[] }
}>

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null

/**
 * What the driver said. Model calls (P2039, P2002 …) and raw calls (P2010) carry it in
 * `meta.driverAdapterError.cause`; a constraint trigger that fires at COMMIT surfaces as a bare
 * DriverAdapterError whose `cause` it is.
 */
function driverCause(error: unknown): DriverCause | null {
  if (!isObject(error)) return null
  const meta = isObject(error.meta) ? error.meta : null
  const adapterError = meta && isObject(meta.driverAdapterError) ? meta.driverAdapterError : null
  const cause = adapterError ? adapterError.cause : error.cause
  return isObject(cause) && typeof cause.kind === 'string' ? (cause as DriverCause) : null
}

/** Constraints that stand behind a trigger's own check, for when two requests race past it. */
const CONSTRAINT_CODES: Readonly<Record<string, string>> = {
  stints_one_place: 'PERSON_ELSEWHERE',
  outfit_places_one: 'PLACE_TAKEN',
  permits_job_id_number_key: 'NUMBER_TAKEN',
  hot_work_logs_one_area: 'PERSON_ELSEWHERE',
  hot_work_logs_corrects: 'ALREADY_CORRECTED',
  people_email_key: 'EMAIL_TAKEN',
  crews_name_key: 'NAME_TAKEN',
  sites_name_key: 'NAME_TAKEN',
  areas_site_id_name_key: 'NAME_TAKEN',
  crew_members_once: 'ALREADY_MEMBER',
  trips_one_a_vehicle: 'VEHICLE_OUT',
  trip_items_one_trip: 'CYLINDER_STATUS',
  vehicles_plate: 'NAME_TAKEN',
  outfits_number_key: 'NAME_TAKEN',
  extinguishers_number: 'NAME_TAKEN',
}

const BUSY_SQLSTATES = new Set(['40001', '40P01', '55P03', '57014', '25P03', '53300'])
const BUSY_PRISMA_CODES = new Set(['P2028', 'P2034', 'P2024'])
const DUPLICATE_SQLSTATES = new Set(['23505', '23P01'])

function constraintName(cause: DriverCause): string {
  return (
    cause.constraint?.index ??
    /constraint "([a-z0-9_]+)"/.exec(cause.originalMessage ?? '')?.[1] ??
    'unnamed'
  )
}

function isReason(value: unknown): value is Reason {
  return isObject(value) && typeof value.code === 'string'
}

function refusalFromDetail(detail: string | undefined): AppError | null {
  if (!detail) return null
  const parsed: unknown = JSON.parse(detail)
  if (!isReason(parsed)) return null
  const listed =
    isObject(parsed) && 'reasons' in parsed && Array.isArray(parsed.reasons) ? parsed.reasons : []
  const reasons = listed.filter(isReason)
  return new AppError(parsed.code, parsed.params ?? {}, reasons.length > 0 ? reasons : [parsed])
}

/** A database failure that is nobody's refusal, stripped of the row that PostgreSQL quotes. */
export class DatabaseFailure extends Error {
  override readonly name = 'DatabaseFailure'
  readonly sqlState: string
  readonly constraint: string | null
  constructor(sqlState: string, constraint: string | null) {
    super(`database failure ${sqlState}${constraint ? ` on ${constraint}` : ''}`)
    this.sqlState = sqlState
    this.constraint = constraint
  }
}

/** True when trying again with the same key may succeed. */
export function isTransient(error: unknown): boolean {
  const sqlState = driverCause(error)?.originalCode ?? ''
  const prismaCode = isObject(error) && typeof error.code === 'string' ? error.code : ''
  return BUSY_SQLSTATES.has(sqlState) || BUSY_PRISMA_CODES.has(prismaCode)
}

/**
 * Turns what the database raised into an AppError with every reason, or into an error that is safe
 * to log. PostgreSQL's own DETAIL of a broken constraint quotes the row, so it never passes.
 */
export function toRefusal(error: unknown): unknown {
  if (error instanceof AppError || error instanceof DatabaseFailure) return error
  if (isTransient(error)) return new AppError('BUSY')
  const cause = driverCause(error)
  if (!cause) return error
  const sqlState = cause.originalCode ?? cause.kind ?? 'unknown'
  if (sqlState.startsWith('KW'))
    return refusalFromDetail(cause.detail) ?? new DatabaseFailure(sqlState, null)
  const name = constraintName(cause)
  if (DUPLICATE_SQLSTATES.has(sqlState))
    return new AppError(CONSTRAINT_CODES[name] ?? 'DUPLICATE', { rule: name })
  if (sqlState === '23514') return new AppError('RULE_BROKEN', { rule: name })
  return new DatabaseFailure(sqlState, sqlState.startsWith('23') ? name : null)
}
