import { getTranslations } from 'next-intl/server'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { convert } from '@/lib/calc/units'
import { getPlan } from '@/lib/data/plan/plan'
import { AppError, httpStatus } from '@/lib/errors'
import { planAskOf } from '@/lib/schemas/plan'
import { csvText } from '../sheet/sheet-text'

const pounds = (kg: number) => Math.round(convert({ value: kg, from: 'kg', to: 'lb' }))

/** What the yard loads on its own truck, trip by trip, by the plan as it is asked. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const ask = planAskOf(Object.fromEntries(new URL(request.url).searchParams))
    const plan = await getPlan(viewer, ask)
    const g = await getTranslations('permit.vessel.gas')
    const rows = plan.rows
      .filter((row) => row.kind === 'move')
      .flatMap((row) =>
        row.lines.map((line) =>
          [
            row.date,
            csvText(row.fromName ?? ''),
            csvText(row.siteName),
            csvText(g(line.gasId as 'oxygen')),
            csvText(line.sizeName),
            line.quantity,
            pounds(row.truckKg?.load ?? 0),
            pounds(row.truckKg?.most ?? 0),
            'proposed',
          ].join(','),
        ),
      )
    const confirmed = plan.commitments
      .filter((one) => one.kind === 'move')
      .flatMap((one) =>
        one.lines.map((line) =>
          [
            one.dueOn,
            csvText(one.siteName),
            csvText(one.toSiteName ?? ''),
            csvText(g(line.gasId as 'oxygen')),
            csvText(line.sizeName),
            line.quantity,
            '',
            '',
            'confirmed',
          ].join(','),
        ),
      )
    const head = 'day,from,to,gas,size,quantity,load_lb,most_lb,state'
    return new Response(`${[head, ...confirmed, ...rows].join('\r\n')}\r\n`, {
      headers: {
        'content-type': 'text/csv; charset=utf-8',
        'content-disposition': 'attachment; filename="truck-list.csv"',
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
