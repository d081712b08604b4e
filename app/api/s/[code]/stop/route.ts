import { answerPost } from '@/app/api/answer'
import { CLIENT_ADDRESS_HEADER } from '@/lib/auth/headers'
import { withPostedCode } from '@/lib/data/watch/posted-code'
import { stopByCode } from '@/lib/data/watch/stop'
import { postedStopSchema } from '@/lib/schemas/watch'

type Context = Readonly<{ params: Promise<{ code: string }> }>

/** Stop work by the posted code: whoever stands there may, without signing in. */
export async function POST(request: Request, { params }: Context): Promise<Response> {
  const { code } = await params
  const address = request.headers.get(CLIENT_ADDRESS_HEADER) ?? 'unknown'
  return answerPost(request, postedStopSchema, (input) =>
    withPostedCode({ code, address }, (known) => stopByCode(known, input)),
  )
}
