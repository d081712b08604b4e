import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { RECKON_TOOLS } from '@/lib/schemas/reckon'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('reckon'))('title') }
}

/** Every calculator, and the tip charts. */
export default async function ReckonPage() {
  await requireViewer()
  const [t, charts] = [await getTranslations('reckon'), await getTranslations('charts')]
  return (
    <>
      <PhoneHead title={t('title')} where={t('sentence')} backHref="/cuts" />
      <DeskPageHead title={t('title')} sentence={t('sentence')} />
      <ul className="plain-rows desk:max-w-[720px] desk:px-8">
        {RECKON_TOOLS.map((tool) => (
          <PlainRow
            key={tool}
            href={`/reckon/${tool}`}
            title={t(`tool.${tool}`)}
            note={t(`toolNote.${tool}`)}
          />
        ))}
        <PlainRow href="/charts" title={charts('title')} note={charts('sentence')} />
      </ul>
    </>
  )
}
