import { answerPost, idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { recordRound } from '@/lib/data/watch/round'
import { roundSchema } from '@/lib/schemas/watch'

type Context = Readonly<{ params: Promise<{ permitId: string }> }>

/** A round, as the form sends it: a plain route, so that nothing queues before it. */
export async function POST(request: Request, { params }: Context): Promise<Response> {
  const { permitId } = await params
  return answerPost(request, roundSchema, async (input) => ({
    data: await recordRound(await requireRouteViewer(), idIn(permitId), input),
  }))
}
