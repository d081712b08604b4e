import { getTranslations } from 'next-intl/server'
import type { Say } from '@/app/_components/form/reason-words'
import { detailOf } from '@/app/(app)/permits/[permitId]/record/entry-words'
import { keepWords } from '@/app/(app)/permits/[permitId]/record/keep-words'
import type { RecordEntry } from '@/lib/data/records/entries'
import type { WholeRecord } from '@/lib/data/records/whole'
import { formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { Pages } from './pages'

type Words = Awaited<ReturnType<typeof getTranslations<'record'>>>

interface Scene {
  whole: WholeRecord
  prefs: FormatPrefs
  t: Words
  all: Say
}

const say = (t: Words, key: string, params: Record<string, string | number> = {}) =>
  t(key as never, params as never)

function addHead(pages: Pages, { whole, prefs, t }: Scene): void {
  const { head, endedAt, now } = whole.record
  pages.line(t('title', { number: head.number }), 22, 'bold')
  pages.line(t('where', { area: head.areaName, site: head.siteName }), 11)
  pages.line(head.what, 10)
  pages.gap(6)
  pages.line(
    say(t, endedAt ? 'pdf.ended' : 'pdf.running', {
      time: formatDayClock(endedAt ?? now, prefs),
      zone: prefs.timeZone,
    }),
    9,
  )
  pages.line(keepWords(whole.record, t as never, prefs), 9)
}

function addSignatures(pages: Pages, { whole, prefs, t }: Scene): void {
  pages.head(say(t, 'pdf.signatures'))
  if (whole.signatures.length === 0) pages.line(say(t, 'proof.none'), 9)
  for (const one of whole.signatures)
    pages.row([
      { text: formatDayClock(one.at, prefs), width: 100 },
      { text: one.name, width: 120 },
      { text: say(t, `whats.signature_${one.act}`), width: 130 },
      {
        text: one.contentHash
          ? say(t, 'pdf.signedFor', { hash: one.contentHash.slice(0, 24) })
          : '',
        width: 182,
      },
    ])
}

function entryRow(entry: RecordEntry, { prefs, t, all }: Scene) {
  const who = entry.who ?? say(t, entry.role === 'posted_code' ? 'nobody' : 'system')
  const role = t.has(`roles.${entry.role}` as never)
    ? say(t, `roles.${entry.role}`, { role: entry.role })
    : entry.role
  return [
    { text: entry.seq === null ? '' : String(entry.seq), width: 34 },
    { text: formatDayClock(entry.at, prefs), width: 92 },
    { text: `${who}, ${role}`, width: 118 },
    {
      text: say(t, `whats.${entry.what}`),
      width: 100,
      ...(entry.isTrouble ? { font: 'bold' as const } : {}),
    },
    { text: detailOf(entry, { t: t as never, all, prefs }), width: 148 },
    { text: entry.code ?? '', width: 40, font: 'mono' as const },
  ]
}

function addPictures(pages: Pages, { whole, prefs, t, all }: Scene): void {
  if (whole.pictures.length === 0) return
  pages.head(say(t, 'pdf.photos', { count: whole.pictures.length }))
  for (const one of whole.pictures) {
    const key =
      one.purpose === 'precaution'
        ? `precautions.${one.about}`
        : `clearance.items.${one.about}.title`
    const about = one.about && all.has(key as never) ? all(key as never) : ''
    const words = [
      say(t, 'pdf.photoOf', { purpose: one.purpose, about }),
      formatDayClock(one.at, prefs),
      ...(one.note ? [one.note] : []),
      say(t, 'pdf.hash', { hash: one.sha256 }),
    ]
    pages.picture(one.bytes, words, say(t, 'pdf.notDrawn'))
  }
}

function addProof(pages: Pages, { whole, prefs, t }: Scene): void {
  const { proof, record } = whole
  pages.head(say(t, 'proof.title'))
  if (proof) {
    pages.line(say(t, 'pdf.chain', { count: proof.count, first: proof.first, last: proof.last }), 9)
    pages.line(proof.lastHash, 8.5, 'mono')
    pages.line(say(t, 'pdf.verify'), 9)
    pages.line(`npm run verify -- --expect ${proof.last}:${proof.lastHash}`, 7, 'mono')
  }
  const { verdict } = record
  if (!verdict) pages.line(say(t, 'proof.notChecked'), 9)
  else if (!verdict.ok)
    pages.line(say(t, 'proof.altered', { seq: verdict.firstBadSeq ?? 0 }), 9, 'bold')
  else {
    pages.line(
      `${say(t, 'proof.unaltered')} ${say(t, 'proof.checked', {
        last: String(verdict.lastSeq),
        time: formatDayClock(verdict.checkedAt, prefs),
        code: '',
      })}`,
      9,
    )
    pages.line(verdict.lastHash, 8.5, 'mono')
  }
  pages.gap(6)
  pages.line(say(t, 'proof.caution'), 8.5)
}

/** The whole record of a permit as a file for whoever keeps it: signatures, entries, photos, and what proves them. */
export async function renderRecord(
  whole: WholeRecord,
  prefs: FormatPrefs,
): Promise<Uint8Array<ArrayBuffer>> {
  const t = await getTranslations('record')
  const all = (await getTranslations()) as unknown as Say
  const scene: Scene = { whole, prefs, t, all }
  const { head, now } = whole.record
  const title = t('title', { number: head.number })
  const pages = new Pages(title)
  addHead(pages, scene)
  addSignatures(pages, scene)
  pages.head(say(t, 'pdf.entries', { count: whole.entries.length }))
  for (const entry of whole.entries) pages.row(entryRow(entry, scene))
  addPictures(pages, scene)
  addProof(pages, scene)
  const printed = formatDayClock(now, prefs)
  return pages.end((page, of) => say(t, 'pdf.foot', { title, printed, page, of }))
}
