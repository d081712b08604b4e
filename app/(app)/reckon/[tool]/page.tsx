import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { isReckonTool, RECKON_FIELDS } from '@/lib/schemas/reckon'
import { Reckoner } from './reckoner'

type ToolPageProps = Readonly<{
  params: Promise<{ tool: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('reckon'))('title') }
}

export default async function ToolPage({ params, searchParams }: ToolPageProps) {
  const viewer = await requireViewer()
  const [{ tool }, query] = [await params, await searchParams]
  if (!isReckonTool(tool)) notFound()
  const t = await getTranslations('reckon')
  const text = (name: string) => (typeof query[name] === 'string' ? query[name] : '')
  const units = text('units') === 'us' || text('units') === 'si' ? text('units') : viewer.units
  return (
    <>
      <PhoneHead title={t(`tool.${tool}`)} where={t(`toolNote.${tool}`)} backHref="/reckon" />
      <DeskPageHead title={t(`tool.${tool}`)} sentence={t(`toolNote.${tool}`)} />
      <Reckoner
        tool={tool}
        units={units === 'si' ? 'si' : 'us'}
        start={Object.fromEntries(RECKON_FIELDS[tool].map(({ name }) => [name, text(name)]))}
      />
      <p className="max-w-[68ch] px-4 py-4 type-small text-ink-2 desk:px-8">{t('caution')}</p>
    </>
  )
}
