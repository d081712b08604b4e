import type { Viewer } from '@/lib/access/viewer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { listCylinders } from '@/lib/data/cylinders-list'
import type { CylinderRow } from '@/lib/data/cylinders-shown'
import { AppError, httpStatus } from '@/lib/errors'
import { workbookOf } from '@/lib/format/workbook'
import { csvCell } from '@/lib/schemas/csv-text'
import { type CylinderFilter, cylinderFilterSchema } from '@/lib/schemas/cylinder'

const HEAD = [
  'serial',
  'gas',
  'size',
  'status',
  'area',
  'outfit',
  'contents_kg',
  'contents_low90_kg',
  'contents_high90_kg',
  'test_due',
  'past_due',
  'condition',
]
const DECIMALS = 3
const MOST_PAGES = 400

type Cell = string | number | null
const kg = (value: number | undefined): Cell =>
  value === undefined ? null : Number(value.toFixed(DECIMALS))

function lineOf(row: CylinderRow): Cell[] {
  return [
    row.serial,
    row.gasId,
    row.sizeName,
    row.status,
    row.areaName,
    row.outfitNumber,
    kg(row.contents?.kg),
    kg(row.contents?.low90Kg),
    kg(row.contents?.high90Kg),
    row.dueMonth?.toISOString().slice(0, 7) ?? null,
    row.isPastDue ? 'yes' : 'no',
    row.condition,
  ]
}

async function readAll(viewer: Viewer, siteId: string, filter: CylinderFilter): Promise<Cell[][]> {
  const lines: Cell[][] = []
  let after: string | null = null
  for (let page = 0; page < MOST_PAGES; page += 1) {
    const found = await listCylinders(viewer, siteId, { ...filter, after })
    lines.push(...found.cylinders.map(lineOf))
    after = found.next
    if (!after) break
  }
  return lines
}

/** The list as the page's filter shows it, all of it, as CSV or as a workbook. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const query = new URL(request.url).searchParams
    const filter = cylinderFilterSchema.parse(Object.fromEntries(query))
    const rows = await readAll(viewer, query.get('site') ?? '', filter)
    const isXlsx = query.get('as') === 'xlsx'
    const body = isXlsx
      ? new Uint8Array(await workbookOf([{ name: 'Cylinders', head: HEAD, rows }]))
      : `${[HEAD, ...rows].map((line) => line.map(csvCell).join(',')).join('\r\n')}\r\n`
    return new Response(body, {
      headers: {
        'content-type': isXlsx
          ? 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'
          : 'text/csv; charset=utf-8',
        'content-disposition': `attachment; filename="cylinders.${isXlsx ? 'xlsx' : 'csv'}"`,
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
