import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { Qr } from '@/app/_components/qr'
import { requireViewer } from '@/lib/auth/viewer'
import { listCylinders } from '@/lib/data/cylinders-list'
import type { CylinderRow } from '@/lib/data/cylinders-shown'
import { resolveSite } from '@/lib/data/sites'
import { LABEL_SHEETS, type LabelSheet, PAPER_MM } from '@/lib/rules/label-sheets'
import { cylinderFilterSchema } from '@/lib/schemas/cylinder'
import { PrintButton } from '../../permits/[permitId]/record/print-button'
import './labels.css'

type LabelsPageProps = Readonly<{
  searchParams: Promise<Record<string, string | string[] | undefined>>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('labels'))('title') }
}

const QR_SHARE = 0.82
const mm = (value: number) => `${value}mm`

/** The cylinders that the list shows, fifty at a time, as sheets of labels. */
export default async function LabelsPage({ searchParams }: LabelsPageProps) {
  const viewer = await requireViewer()
  const address = await searchParams
  const filter = cylinderFilterSchema.parse(address)
  const t = await getTranslations('labels')
  const c = await getTranslations('cylinders')
  const site = await found(resolveSite(viewer, address.site))
  const page = await found(listCylinders(viewer, site.id, filter))
  const sheet = LABEL_SHEETS.find((one) => one.id === address.sheet) ?? LABEL_SHEETS[0]
  const query = (more: Record<string, string>) =>
    new URLSearchParams({
      site: site.id,
      ...(filter.gas ? { gas: filter.gas } : {}),
      ...(filter.status ? { status: filter.status } : {}),
      ...more,
    })
  const words = (cylinder: CylinderRow) =>
    `${c(`gas.${cylinder.gasId}` as 'gas.oxygen')} ${cylinder.sizeName}`
  return (
    <>
      <div className="not-printed">
        <PhoneHead
          title={t('title')}
          where={site.name}
          backHref={`/cylinders?site=${site.id}`}
          level={2}
        />
        <p className="flex flex-wrap items-center gap-3 px-4 py-3 desk:px-8">
          <PrintButton kind="main">{t('print')}</PrintButton>
          {LABEL_SHEETS.map((one) => (
            <ButtonLink
              key={one.id}
              isRow
              href={`/cylinders/labels?${query({ sheet: one.id, ...(filter.after ? { after: filter.after } : {}) })}`}
            >
              {t(`sheet.${one.id}`)}
            </ButtonLink>
          ))}
          {page.next ? (
            <ButtonLink
              isRow
              href={`/cylinders/labels?${query({ sheet: sheet.id, after: page.next })}`}
            >
              {c('nextPage')}
            </ButtonLink>
          ) : null}
          <span className="type-note text-ink-2">{t('note')}</span>
        </p>
        <h1 className="sr-only">{t('title')}</h1>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a sheet wider than a phone is scrolled with the keys too */}
      <section className="labels-view" aria-label={t('title')} tabIndex={0}>
        {sheetsOf(page.cylinders, sheet).map((labels, number) => (
          <Sheet
            // biome-ignore lint/suspicious/noArrayIndexKey: sheets are told apart by their number
            key={number}
            labels={labels}
            sheet={sheet}
            words={words}
          />
        ))}
      </section>
    </>
  )
}

function sheetsOf(
  cylinders: readonly CylinderRow[],
  { across, down }: LabelSheet,
): CylinderRow[][] {
  const each = across * down
  return Array.from({ length: Math.ceil(cylinders.length / each) }, (_, i) =>
    cylinders.slice(i * each, (i + 1) * each),
  )
}

function Sheet({
  labels,
  sheet,
  words,
}: Readonly<{
  labels: readonly CylinderRow[]
  sheet: LabelSheet
  words: (cylinder: CylinderRow) => string
}>) {
  const paper = PAPER_MM[sheet.paper]
  return (
    <div className="labels-sheet" style={{ width: mm(paper.width), height: mm(paper.height) }}>
      {labels.map((cylinder, i) => {
        const [column, row] = [i % sheet.across, Math.floor(i / sheet.across)]
        const left = sheet.leftMm + column * (sheet.labelWidthMm + sheet.betweenAcrossMm)
        const top = sheet.topMm + row * (sheet.labelHeightMm + sheet.betweenDownMm)
        return (
          <div
            key={cylinder.id}
            className="labels-one"
            style={{
              left: mm(left),
              top: mm(top),
              width: mm(sheet.labelWidthMm),
              height: mm(sheet.labelHeightMm),
            }}
          >
            <Qr
              text={cylinder.serial}
              label={cylinder.serial}
              sizeMm={Math.min(sheet.labelHeightMm * QR_SHARE, sheet.labelWidthMm / 2.4)}
            />
            <div>
              <b className="type-ident">{cylinder.serial}</b>
              <span>{words(cylinder)}</span>
            </div>
          </div>
        )
      })}
    </div>
  )
}
