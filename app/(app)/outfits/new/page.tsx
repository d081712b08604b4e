import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { outfitChoices } from '@/lib/data/gear/outfit-set-up'
import { OutfitForm } from '../outfit-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('outfits'))('add') }
}

export default async function NewOutfitPage() {
  const viewer = await requireViewer()
  const choices = await found(outfitChoices(viewer))
  const t = await getTranslations('outfits')
  return (
    <>
      <PhoneHead title={t('add')} backHref="/people" />
      <DeskPageHead title={t('add')} />
      <div className="px-4 py-2 desk:max-w-[560px] desk:px-8">
        <OutfitForm outfit={null} choices={choices} />
      </div>
    </>
  )
}
