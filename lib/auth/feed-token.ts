import 'server-only'
import { createHmac, timingSafeEqual } from 'node:crypto'
import { env } from '@/lib/env'

/** Of whom a feed is; the epoch is raised when they are disabled or their grants change, and old addresses die. */
export type FeedOwner = Readonly<{ personId: string; sessionEpoch: number }>

const signatureOf = ({ personId, sessionEpoch }: FeedOwner) =>
  createHmac('sha256', env.NEXTAUTH_SECRET ?? '')
    .update(`calendar\n${personId}\n${sessionEpoch}`)
    .digest('base64url')

/** The last part of a calendar's address: who, and a signature nobody else can make. */
export const feedToken = (owner: FeedOwner): string => `${owner.personId}.${signatureOf(owner)}`

/** Whose feed a token says it is; nothing is proved by that yet. */
export const feedPerson = (token: string): string => token.split('.')[0] ?? ''

export function isFeedToken(token: string, owner: FeedOwner): boolean {
  const given = Buffer.from(token)
  const right = Buffer.from(feedToken(owner))
  return given.length === right.length && timingSafeEqual(given, right)
}
