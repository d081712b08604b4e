import { requireRouteViewer } from '@/lib/auth/viewer'
import { openExport } from '@/lib/data/exports/read'
import { answerList } from '../list-file'

type RouteContext = Readonly<{ params: Promise<{ list: string }> }>

/** Any list but the cylinders' (which has its page's filter): of one site, or of all the viewer's. */
export function GET(request: Request, { params }: RouteContext): Promise<Response> {
  return answerList(request, async () => {
    const viewer = await requireRouteViewer()
    const { list } = await params
    const siteId = new URL(request.url).searchParams.get('site')
    return { name: list, ...openExport(viewer, list, siteId) }
  })
}
