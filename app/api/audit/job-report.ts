import 'server-only'
import { getTranslations } from 'next-intl/server'
import { observed, remarksOf } from '@/app/(app)/audit/[jobId]/entry-words'
import type { Viewer } from '@/lib/access/viewer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import type { JobAudit } from '@/lib/calc/audit-types'
import { accountFor, type JobAccount } from '@/lib/calc/job-account'
import { type ListedFinding, listFindingsOfJob } from '@/lib/data/findings/list'
import { type GasSide, getJobAudit, type JobAuditDetail } from '@/lib/data/gas-audit'
import type { AuditEntry } from '@/lib/data/gas-audit-entries'
import type { FormatPrefs } from '@/lib/format/prefs'

/** What one gas's audit of a job holds: where the use went, and every entry that made it. */
export type SideReport = Readonly<{
  audit: JobAudit
  account: JobAccount
  entries: readonly AuditEntry[]
}>

export type JobReport = Readonly<{
  viewer: Viewer
  job: JobAuditDetail
  prefs: FormatPrefs
  sides: readonly SideReport[]
  findings: readonly ListedFinding[]
  currency: string
}>

/** What a report of one job says of its methods: words of `auditReport.method`. */
export const JOB_METHODS = [
  'use',
  'contents',
  'estimate',
  'interval',
  'crews',
  'finding',
  'correction',
] as const

/** The job that the address asks a file of; null where it asks for none. */
export const jobAsked = (request: Request) => new URL(request.url).searchParams.get('job')

/** One job's audit whole, for a file of it. */
export async function readJobReport(jobId: string): Promise<JobReport> {
  const viewer = await requireRouteViewer()
  const job = await getJobAudit(viewer, jobId, { isWhole: true })
  const sideOf = (side: GasSide): SideReport[] => {
    const audit = job[side]
    if (!audit) return []
    const { estimate, usage } = audit
    const account = accountFor({ estimate, usage, factor: job.crewFactor })
    return [{ audit, account, entries: job.entries[side].rows }]
  }
  return {
    viewer,
    job,
    prefs: { units: viewer.units, clock: viewer.clock, timeZone: job.zone },
    sides: [...sideOf('oxygen'), ...sideOf('fuel')],
    ...(await listFindingsOfJob(viewer, job)),
  }
}

/** Each entry's words: what happened, what was seen, and what else is to be said of it. */
export async function entryWords(prefs: FormatPrefs) {
  const t = await getTranslations('audit.entries')
  return (entry: AuditEntry, gas: JobAudit['gas']) => ({
    what: t('kind', { kind: entry.reading.kind, who: entry.reading.personName }),
    seen: observed(entry.reading, prefs),
    remarks: remarksOf(t, { entry, gas, prefs }).map((remark) => remark.text),
  })
}

export const ACCOUNT_ROWS = ['estimate', 'allowance', 'rest', 'usage'] as const

/** The account's lines in words. */
export async function accountWords(
  { crewFactor }: JobAuditDetail,
  formatFactor: (value: number) => string,
) {
  const t = await getTranslations('audit.account')
  return (row: (typeof ACCOUNT_ROWS)[number]) =>
    row === 'allowance'
      ? t('allowance', {
          factor: crewFactor ? formatFactor(crewFactor.mean) : 'none',
          u: formatFactor(crewFactor?.standardUncertainty ?? 0),
        })
      : t(row)
}
