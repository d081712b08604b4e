import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getPersonPapers, type Qualified } from '@/lib/data/qualifications'
import { formatDate } from '@/lib/format/clock'
import { EvidenceUpload } from './evidence-upload'

type PersonPageProps = Readonly<{ params: Promise<{ personId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('people.papers'))('title') }
}

export default async function PersonScreen({ params }: PersonPageProps) {
  const viewer = await requireViewer()
  const { personId } = await params
  const person = await found(getPersonPapers(viewer, personId))
  const t = await getTranslations('people.papers')
  const where = person.firm ? t('ofFirm', { firm: person.firm }) : t('own')
  return (
    <>
      <PhoneHead title={person.name} where={where} backHref="/people" />
      <DeskPageHead title={person.name} sentence={where} />
      <section className="px-4 pb-8 desk:max-w-[760px] desk:px-8">
        <h2 className="type-section border-b-2 border-ink pb-1">{t('title')}</h2>
        {person.qualifications.length === 0 ? <p className="py-3">{t('none')}</p> : null}
        <ul>
          {person.qualifications.map((one) => (
            <Paper key={one.id} one={one} mayWrite={person.mayWrite} />
          ))}
        </ul>
      </section>
    </>
  )
}

async function Paper({ one, mayWrite }: Readonly<{ one: Qualified; mayWrite: boolean }>) {
  const t = await getTranslations('people')
  const day = (date: Date) => formatDate(date, { timeZone: 'UTC' })
  return (
    <li className="border-b border-rule py-3">
      <h3 className="type-row-title">{t(`kinds.${one.kind as 'pai'}`)}</h3>
      <p>{t('papers.days', { from: day(one.validFrom), until: day(one.validUntil) })}</p>
      <p className="text-ink-2">
        {t('papers.by', { issuer: one.issuer ?? t('papers.unknown'), evidence: one.evidence })}
      </p>
      {one.files.length === 0 ? (
        <p className="type-small text-ink-2">{t('papers.noFile')}</p>
      ) : (
        <ul>
          {one.files.map((file, index) => (
            <li key={file.id}>
              <a className="text-link inline-block py-1" href={`/api/uploads/evidence/${file.id}`}>
                {t('papers.file', {
                  number: index + 1,
                  kind: file.mime === 'application/pdf' ? 'pdf' : 'picture',
                  day: day(file.at),
                })}
              </a>{' '}
              <span className="type-ident type-small text-ink-2">{file.sha256.slice(0, 12)}</span>
            </li>
          ))}
        </ul>
      )}
      {mayWrite ? <EvidenceUpload qualificationId={one.id} /> : null}
    </li>
  )
}
