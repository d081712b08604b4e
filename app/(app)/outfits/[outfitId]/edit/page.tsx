import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getOutfit } from '@/lib/data/gear/outfit'
import { outfitChoices } from '@/lib/data/gear/outfit-set-up'
import { OutfitForm } from '../../outfit-form'
import { PartForms } from '../../part-forms'

type EditProps = Readonly<{ params: Promise<{ outfitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('outfits'))('change') }
}

export default async function EditOutfitPage({ params }: EditProps) {
  const viewer = await requireViewer()
  const { outfitId } = await params
  const outfit = await found(getOutfit(viewer, outfitId))
  if (!outfit.can.write) notFound()
  const choices = await found(outfitChoices(viewer))
  const t = await getTranslations('outfits')
  const title = t('title', { number: outfit.number })
  return (
    <>
      <PhoneHead title={title} where={outfit.siteName} backHref={`/outfits/${outfit.id}`} />
      <DeskPageHead title={title} sentence={outfit.siteName} />
      <div className="grid gap-10 px-4 py-2 desk:max-w-[1100px] desk:grid-cols-2 desk:px-8">
        <OutfitForm outfit={outfit} choices={choices} />
        <PartForms outfit={outfit} />
      </div>
    </>
  )
}
