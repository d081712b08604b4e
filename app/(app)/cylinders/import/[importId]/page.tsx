import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { Column, DataTable } from '@/app/_components/data-table'
import { found } from '@/app/_components/found'
import { requireViewer } from '@/lib/auth/viewer'
import { getFleetImport } from '@/lib/data/fleet-import'
import { GasFrame } from '../../gas-frame'
import { TakeInButton } from './take-in-button'

type ImportViewProps = Readonly<{
  params: Promise<{ importId: string }>
  searchParams: Promise<{ after?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('fleetImport'))('title') }
}

/** What the file says, what is wrong in it by row and cell, and how far it was taken in. */
export default async function ImportViewPage({ params, searchParams }: ImportViewProps) {
  const viewer = await requireViewer()
  const [{ importId }, { after }] = [await params, await searchParams]
  const afterLine = after && /^\d{1,7}$/.test(after) ? Number(after) : 0
  const view = await found(getFleetImport(viewer, importId, afterLine))
  const t = await getTranslations('fleetImport')
  const head = (
    <>
      <Column isFigure>{t('row')}</Column>
      <Column>{t('column')}</Column>
      <Column>{t('holds')}</Column>
      <Column>{t('why')}</Column>
    </>
  )
  return (
    <GasFrame
      title={view.fileName}
      where={view.siteName}
      back={`/cylinders/import?site=${view.siteId}`}
      viewer={viewer}
      zone={view.zone}
    >
      <div className="flex flex-col gap-4 px-4 py-3 desk:px-8">
        <p className="type-row-title">
          {t('counts', { rows: view.rows, good: view.good, faulty: view.faulty })}
        </p>
        <p className="type-note text-ink-2">
          {t('progress', { taken: view.taken, known: view.known, left: view.left })}
        </p>
        <TakeInButton key={view.left} importId={view.id} left={view.left} />
        {view.faults.length > 0 ? (
          <section>
            <h2 className="type-section pb-1">{t('wrong')}</h2>
            <p className="type-note text-ink-2">{t('wrongNote')}</p>
            <div className="overflow-x-auto">
              <DataTable caption={t('wrong')} head={head}>
                <tbody>
                  {view.faults.flatMap(({ line, faults }) =>
                    faults.map((fault) => (
                      <tr key={`${line}-${fault.column}-${fault.code}`}>
                        <td className="is-figure">{line}</td>
                        <td>{t(`columns.${fault.column}`)}</td>
                        <td className="type-ident">{fault.value || t('nothing')}</td>
                        <td>{t(`fault.${fault.code}` as 'fault.CELL_EMPTY')}</td>
                      </tr>
                    )),
                  )}
                </tbody>
              </DataTable>
            </div>
            {view.nextLine ? (
              <p className="py-3">
                <ButtonLink href={`/cylinders/import/${view.id}?after=${view.nextLine}`}>
                  {t('more')}
                </ButtonLink>
              </p>
            ) : null}
          </section>
        ) : null}
      </div>
    </GasFrame>
  )
}
