'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { PlaceArea } from '@/lib/data/places'
import { AREA_CLASSES, AREA_TICKS, FLOORS, SHIPYARD_SPACES, WALLS } from '@/lib/schemas/place'
import { saveAreaAction } from '../../actions'

type AreaFormProps = Readonly<{
  siteId: string
  /** None: a new one. */
  area: PlaceArea | null
  others: readonly PlaceArea[]
}>

/** What stands in an area whoever works there: only what does not change from day to day. */
export function AreaForm({ siteId, area, others }: AreaFormProps) {
  const t = useTranslations('places')
  const router = useRouter()
  const seenWith = others.find((other) => area?.viewId && other.viewId === area.viewId)
  return (
    <KeptForm
      id={area ? `area-${area.id}-${area.version}` : `new-area-${siteId}`}
      action={saveAreaAction}
      refusedTitle={t('refused')}
      onDone={() => router.push(`/sites/${siteId}`)}
      className="flex flex-col gap-4"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <input type="hidden" name="areaId" value={area?.id ?? ''} />
      <input type="hidden" name="version" value={area?.version ?? 0} />
      <TextField name="name" label={t('areaName')} defaultValue={area?.name ?? ''} maxLength={60} />
      <SelectField
        name="areaClass"
        label={t('areaClass')}
        note={t('areaClassNote')}
        defaultValue={area?.areaClass ?? 'permit'}
        options={AREA_CLASSES.map((one) => ({ value: one, label: t(`classes.${one}`) }))}
      />
      <div>
        {AREA_TICKS.map((name) => (
          <PlainTick
            key={name}
            name={name}
            label={t(`ticks.${name}`)}
            isTicked={area?.facts[name] ?? false}
          />
        ))}
      </div>
      <SelectField
        name="floor"
        label={t('floor')}
        defaultValue={area?.facts.floor ?? 'combustible'}
        options={FLOORS.map((one) => ({ value: one, label: t(`surfaces.${one}`) }))}
      />
      <SelectField
        name="wall"
        label={t('wall')}
        defaultValue={area?.facts.wall ?? 'combustible'}
        options={WALLS.map((one) => ({ value: one, label: t(`surfaces.${one}`) }))}
      />
      <TextField
        name="levelFt"
        label={t('level')}
        inputMode="decimal"
        defaultValue={String(area?.facts.levelFt ?? 0)}
      />
      <SelectField
        name="shipyardSpace"
        label={t('shipyard')}
        defaultValue={area?.facts.shipyardSpace ?? 'none'}
        options={SHIPYARD_SPACES.map((one) => ({ value: one, label: t(`shipyards.${one}`) }))}
      />
      <TextField
        name="posts"
        label={t('posts')}
        note={t('postsNote')}
        rows={4}
        defaultValue={area?.posts.map((post) => post.name).join('\n') ?? ''}
        maxLength={800}
      />
      <PlainTick
        name="codes"
        label={t('codes')}
        isTicked={area?.posts.some((post) => post.code) ?? false}
      />
      <SelectField
        name="seenWithId"
        label={t('seenWith')}
        note={t('seenWithNote')}
        emptyLabel={t('alone')}
        defaultValue={seenWith?.id ?? ''}
        options={others.map((other) => ({ value: other.id, label: other.name }))}
      />
      <SubmitButton>{t(area ? 'save' : 'addArea')}</SubmitButton>
    </KeptForm>
  )
}
