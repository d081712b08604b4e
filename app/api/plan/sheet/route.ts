import { getTranslations } from 'next-intl/server'
import { idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { getOrderSheet } from '@/lib/data/plan/sheets'
import { AppError, httpStatus } from '@/lib/errors'
import { plainPdf } from '@/lib/format/plain-pdf'
import { type SheetWords, sheetCsv, sheetLines } from './sheet-text'

/** What is ordered from a supplier and has not come: as CSV, or as a PDF to send. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const asked = new URL(request.url).searchParams
    const sheet = await getOrderSheet(viewer, idIn(asked.get('supplier') ?? ''))
    const g = await getTranslations('permit.vessel.gas')
    const t = await getTranslations('plan.sheet')
    const words: SheetWords = {
      gas: (gasId) => g(gasId as 'oxygen'),
      say: (key, values) => t(key, values),
    }
    const isPdf = asked.get('as') === 'pdf'
    const name = `orders-${sheet.printedOn}.${isPdf ? 'pdf' : 'csv'}`
    return new Response(isPdf ? await plainPdf(sheetLines(sheet, words)) : sheetCsv(sheet, words), {
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
