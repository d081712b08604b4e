import { answerList } from '@/app/api/export/list-file'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { listCylinders } from '@/lib/data/cylinders-list'
import type { CylinderRow } from '@/lib/data/cylinders-shown'
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
const ROWS_A_PAGE = 500

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

async function* pagesOf(viewer: Viewer, siteId: string, filter: CylinderFilter) {
  for (let after: string | null = null; ; ) {
    const page = await listCylinders(viewer, siteId, { ...filter, after }, ROWS_A_PAGE)
    yield page.cylinders.map(lineOf)
    after = page.next
    if (!after) return
  }
}

/** The list as the page's filter shows it, all of it, as CSV or as a workbook. */
export function GET(request: Request): Promise<Response> {
  return answerList(request, async () => {
    const viewer = await requireRouteViewer()
    const query = new URL(request.url).searchParams
    const filter = cylinderFilterSchema.parse(Object.fromEntries(query))
    const siteId = query.get('site') ?? ''
    assertCan(viewer, 'cylinder:read', siteId)
    return { name: 'cylinders', head: HEAD, pages: pagesOf(viewer, siteId, filter) }
  })
}
