import { answerPost, idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { stopWork } from '@/lib/data/watch/stop'
import { stopSchema } from '@/lib/schemas/watch'

type Context = Readonly<{ params: Promise<{ permitId: string }> }>

/** A plain route, so that nothing queues before it. */
export async function POST(request: Request, { params }: Context): Promise<Response> {
  const { permitId } = await params
  return answerPost(request, stopSchema, async (input) =>
    stopWork(await requireRouteViewer(), idIn(permitId), input),
  )
}
