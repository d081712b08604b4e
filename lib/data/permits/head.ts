import 'server-only'
import type { PermitState } from '@/lib/permit/types'
import type { PermitContext } from './context'

/** What the head of every screen of a permit shows. */
export type PermitHead = Readonly<{
  id: string
  number: string
  state: PermitState
  version: number
  siteId: string
  siteName: string
  zone: string
  areaName: string
  jobId: string
  jobTitle: string
  what: string
  whereWords: string
  isStopped: boolean
  /** Of what this screen shows; a signature given here is for that. */
  contentHash: string
}>

export function toHead({ bundle, facts }: PermitContext): PermitHead {
  const { permit, site, area, job } = bundle
  return {
    id: permit.id,
    number: facts.number,
    state: facts.state,
    version: permit.version,
    siteId: site.id,
    siteName: site.name,
    zone: site.zone,
    areaName: area.name,
    jobId: job.id,
    jobTitle: job.title,
    what: permit.what,
    whereWords: permit.where_words,
    contentHash: bundle.content_hash,
    isStopped: facts.stoppedAt !== null,
  }
}
