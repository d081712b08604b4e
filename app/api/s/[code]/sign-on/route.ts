import { answerPost } from '@/app/api/answer'
import { CLIENT_ADDRESS_HEADER } from '@/lib/auth/headers'
import { signOnByCode } from '@/lib/data/permits/sign-ons'
import { withPostedCode } from '@/lib/data/watch/posted-code'
import { postedSignOnSchema } from '@/lib/schemas/sign-on'

type Context = Readonly<{ params: Promise<{ code: string }> }>

/** A visitor signs on to the briefing on their own phone, by the posted code. */
export async function POST(request: Request, { params }: Context): Promise<Response> {
  const { code } = await params
  const address = request.headers.get(CLIENT_ADDRESS_HEADER) ?? 'unknown'
  return answerPost(request, postedSignOnSchema, (input) =>
    withPostedCode({ code, address }, (known) => signOnByCode(known, input)),
  )
}
