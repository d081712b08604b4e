import { idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { getOrderSheet } from '@/lib/data/plan/sheets'
import { AppError, httpStatus } from '@/lib/errors'
import { sheetFiles } from './sheet-files'

/** What is ordered from a supplier and has not come: as CSV, or as a PDF to send. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const asked = new URL(request.url).searchParams
    const sheet = await getOrderSheet(viewer, idIn(asked.get('supplier') ?? ''))
    const { pdf, csv } = await sheetFiles(sheet)
    const isPdf = asked.get('as') === 'pdf'
    const name = isPdf ? pdf.name : csv.name
    return new Response(isPdf ? pdf.bytes : csv.text, {
      headers: {
        'content-type': isPdf ? 'application/pdf' : 'text/csv; charset=utf-8',
        'content-disposition': `attachment; filename="${name}"`,
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
