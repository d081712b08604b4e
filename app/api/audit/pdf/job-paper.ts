import 'server-only'
import { getTranslations } from 'next-intl/server'
import { volumeOf, volumeUnit } from '@/app/(app)/audit/audit-view'
import { frameFor } from '@/lib/auth/frame'
import type { JobAudit } from '@/lib/calc/audit-types'
import { formatClock, formatDate, formatDay, formatWhen } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import {
  ACCOUNT_ROWS,
  accountWords,
  entryWords,
  JOB_METHODS,
  type JobReport,
  type SideReport,
} from '../job-report'
import type { AuditPaper, PdfTable } from './audit-pdf'
import { findingTable } from './finding-table'

/** One job's audit as a paper: where each gas went, every entry that made its number, findings, methods and sources. */
export async function jobPaper(report: JobReport): Promise<AuditPaper> {
  const { viewer, job, prefs, sides, findings, currency } = report
  const [t, a, frame] = await Promise.all([
    getTranslations('auditReport'),
    getTranslations('audit'),
    frameFor(viewer),
  ])
  const when = formatDate(frame.nowMs, { timeZone: frame.timeZone })
  const basis = job.estimate
    ? [a('basis', { time: formatWhen(job.estimate.kept_at, new Date(frame.nowMs), prefs) })]
    : []
  const tables: PdfTable[] = []
  for (const side of sides) tables.push(await accountTable(report, side))
  for (const side of sides) tables.push(await entriesTable(report, side))
  if (findings.length > 0)
    tables.push(await findingTable(findings, { units: prefs.units, currency }))
  return {
    title: a('ofJob', { number: job.number }),
    lines: [
      frame.name,
      a('where', { title: job.title, site: job.siteName }),
      ...basis,
      t('madeBy', { name: viewer.name, when }),
    ],
    tables,
    appendix: { title: t('methods'), paragraphs: JOB_METHODS.map((key) => t(`method.${key}`)) },
    foot: t('foot'),
    page: (n, of) => t('page', { n, of }),
  }
}

/** Amounts of a gas in the person's unit. */
function figuresOf({ gas }: JobAudit, units: JobReport['prefs']['units']) {
  const decimals = units === 'us' ? 0 : 1
  const at = (kg: number) => volumeOf(gas, kg, units)
  return {
    number: (kg: number, more = 0) => formatNumber(at(kg), decimals + more),
    interval: (low: number, high: number) => formatInterval(at(low), at(high), decimals),
  }
}

async function accountTable(
  { job, prefs }: JobReport,
  { audit, account }: SideReport,
): Promise<PdfTable> {
  const t = await getTranslations('auditReport')
  const a = await getTranslations('audit.account')
  const words = await accountWords(job, (value) => formatNumber(value, 2))
  const figures = figuresOf(audit, prefs.units)
  return {
    title: a('head', { gas: audit.gas }),
    columns: [
      { head: '', share: 0.56 },
      { head: volumeUnit(prefs.units), share: 0.2, isFigure: true },
      { head: t('nineInTen'), share: 0.24, isFigure: true },
    ],
    rows: ACCOUNT_ROWS.map((row) => [
      words(row),
      figures.number(account[row].mean),
      figures.interval(account[row].low90, account[row].high90),
    ]),
  }
}

async function entriesTable(
  { prefs }: JobReport,
  { audit, entries }: SideReport,
): Promise<PdfTable> {
  const e = await getTranslations('audit.entries')
  const wordsOf = await entryWords(prefs)
  const unit = volumeUnit(prefs.units)
  const figures = figuresOf(audit, prefs.units)
  const rows = entries.map((entry) => {
    const { reading, heldKg, tookKg, doubtKg } = entry
    const { what, seen, remarks } = wordsOf(entry, audit.gas)
    return [
      e('dayTime', {
        day: formatDay(reading.atMs, prefs),
        time: formatClock(reading.atMs, prefs),
      }),
      reading.serial,
      `${what} ${seen}`.trim(),
      figures.number(heldKg),
      tookKg === null ? e('begins') : figures.number(tookKg),
      doubtKg > 0 ? figures.number(doubtKg, 1) : e('noDoubt'),
      remarks.join('; '),
    ]
  })
  const { usage } = audit
  const total = [
    e('total', { count: entries.length }),
    '',
    '',
    '',
    figures.number(usage.mean),
    figures.number(usage.standardUncertainty, 1),
    figures.interval(usage.low90, usage.high90),
  ]
  return {
    title: e('title', { gas: audit.gas }),
    columns: [
      { head: e('at'), share: 0.15 },
      { head: e('cylinder'), share: 0.12 },
      { head: e('what'), share: 0.24 },
      { head: e('held', { unit }), share: 0.09, isFigure: true },
      { head: e('took', { unit }), share: 0.1, isFigure: true },
      { head: e('doubt', { unit }), share: 0.1, isFigure: true },
      { head: e('remarks'), share: 0.2 },
    ],
    rows: [...rows, total],
  }
}
