import 'server-only'
import type { NextAuthOptions } from 'next-auth'
import CredentialsProvider from 'next-auth/providers/credentials'
import { env } from '@/lib/env'
import { AppError } from '@/lib/errors'
import { log } from '@/lib/log'
import { CLIENT_ADDRESS_HEADER } from './headers'
import { checkSignIn } from './sign-in'

const SESSION_S = 12 * 60 * 60 // a long shift
const MAX_LENGTH = 320

const textOf = (value: unknown) => (typeof value === 'string' ? value.slice(0, MAX_LENGTH) : '')

/** next-auth hands an error's message to the form as its code. */
async function authorize(
  credentials: Record<string, unknown> | undefined,
  headers: Record<string, unknown> | undefined,
) {
  try {
    const signedIn = await checkSignIn({
      email: textOf(credentials?.email),
      password: textOf(credentials?.password),
      address: textOf(headers?.[CLIENT_ADDRESS_HEADER]) || 'unknown',
    })
    log.info({ isRight: signedIn !== null, personId: signedIn?.personId }, 'auth.sign-in')
    return signedIn ? { id: signedIn.personId, epoch: signedIn.epoch } : null
  } catch (error) {
    if (error instanceof AppError) throw new Error(`${error.code}:${error.params.waitMin ?? ''}`)
    log.error({ err: error }, 'auth.sign-in-failed')
    throw new Error('FAILED')
  }
}

export const SESSION_SECRET = env.NEXTAUTH_SECRET ?? ''
const isSecure = env.NEXTAUTH_URL?.startsWith('https://') ?? false
/** As next-auth names it; what it holds is far too short to be parted among several. */
export const SESSION_COOKIE = `${isSecure ? '__Secure-' : ''}next-auth.session-token`

export const authOptions: NextAuthOptions = {
  secret: SESSION_SECRET,
  useSecureCookies: isSecure,
  session: { strategy: 'jwt', maxAge: SESSION_S, updateAge: 60 * 60 },
  pages: { signIn: '/sign-in', error: '/sign-in', signOut: '/sign-in' },
  providers: [
    CredentialsProvider({
      credentials: { email: { type: 'email' }, password: { type: 'password' } },
      authorize: (credentials, request) => authorize(credentials, request.headers),
    }),
  ],
  callbacks: {
    // The cookie carries whose session it is and the epoch it began in; all else is read afresh.
    jwt: ({ token, user }) =>
      user
        ? { personId: user.id, epoch: user.epoch }
        : { personId: token.personId, epoch: token.epoch },
    session: ({ session, token }) => ({
      expires: session.expires,
      personId: token.personId,
      epoch: token.epoch,
    }),
  },
}
