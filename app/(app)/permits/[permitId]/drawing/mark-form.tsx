'use client'

import { useTranslations } from 'next-intl'
import { useId } from 'react'
import { Button } from '@/app/_components/controls/button'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import type { DrawnMark } from '@/lib/permit/drawing'
import { withChangedMark, withoutMark } from '@/lib/permit/drawing-edit'
import type { MarkFinding } from '@/lib/permit/drawing-findings'
import type { Hand } from './use-drawing'
import { useFindingWords } from './words'

type Change = (change: Partial<DrawnMark>) => void
type PartProps = Readonly<{ mark: DrawnMark; change: Change }>

/** The thing that was chosen or just put down: what it is, and what of it matters. */
export function MarkForm({ finding, hand }: Readonly<{ finding: MarkFinding; hand: Hand }>) {
  const t = useTranslations('permit.drawing')
  const id = useId()
  const { mark } = finding
  const { where } = useFindingWords()(finding)
  const change: Change = (changed) =>
    hand.set({ drawing: withChangedMark(hand.drawing, mark.id, changed) })
  return (
    <section className="grid gap-3 border-l-4 border-cobalt pl-3" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`} className="type-row-title">
        {mark.label}, {where}
      </h2>
      <div className="field">
        <label className="field-label" htmlFor={`${id}-label`}>
          {t('label')}
        </label>
        <div className="field-box">
          <input
            id={`${id}-label`}
            value={mark.label}
            maxLength={60}
            onChange={(event) => change({ label: event.target.value })}
          />
        </div>
      </div>
      <OpeningPart mark={mark} change={change} />
      <BurnablePart mark={mark} change={change} />
      <HeadPart mark={mark} change={change} />
      <ExtinguisherPart mark={mark} change={change} />
      <div className="flex flex-wrap gap-2">
        <Button isRow onClick={() => hand.set({ tool: 'move' })}>
          {t('move')}
        </Button>
        <Button
          isRow
          onClick={() =>
            hand.set({ drawing: withoutMark(hand.drawing, mark.id), chosenId: null, tool: null })
          }
        >
          {t('remove')}
        </Button>
        <Button isRow onClick={() => hand.set({ chosenId: null, tool: null })}>
          {t('done')}
        </Button>
      </div>
    </section>
  )
}

const yesNo = (value: boolean | null) => (value === null ? undefined : value ? 'yes' : 'no')

function OpeningPart({ mark, change }: PartProps) {
  const t = useTranslations('permit.drawing')
  const { opening } = mark
  if (!opening) return null
  const set = (changed: Partial<typeof opening>) => change({ opening: { ...opening, ...changed } })
  const kinds = ['wall', 'floor', 'duct', 'shaft'] as const
  const exposed = yesNo(opening.exposes)
  return (
    <>
      <ThreeWayAnswer
        name={`kind-${mark.id}`}
        label={t('opening.kind')}
        isSmall
        defaultValue={opening.kind}
        onAnswered={(value) => set({ kind: kinds.find((kind) => kind === value) ?? 'wall' })}
        options={kinds.map((value) => ({ value, label: t(`opening.kinds.${value}`) }))}
      />
      <ThreeWayAnswer
        name={`exposes-${mark.id}`}
        label={t('opening.exposes')}
        isSmall
        {...(exposed ? { defaultValue: exposed } : {})}
        onAnswered={(value) => set({ exposes: value === 'yes' })}
        options={[
          { value: 'yes', label: t('opening.burns') },
          { value: 'no', label: t('opening.nothing') },
        ]}
      />
      <ThreeWayAnswer
        name={`closed-${mark.id}`}
        label={t('opening.closed')}
        isSmall
        defaultValue={yesNo(opening.canClose) ?? 'no'}
        onAnswered={(value) => set({ canClose: value === 'yes' })}
        options={[
          { value: 'yes', label: t('opening.covered') },
          { value: 'no', label: t('opening.open') },
        ]}
      />
    </>
  )
}

function BurnablePart({ mark, change }: PartProps) {
  const t = useTranslations('permit.drawing')
  const { burnable } = mark
  if (!burnable) return null
  const set = (changed: Partial<typeof burnable>) =>
    change({ burnable: { ...burnable, ...changed } })
  const states = ['movable', 'covered', 'stays', 'unprotectable'] as const
  return (
    <>
      <ThreeWayAnswer
        name={`state-${mark.id}`}
        label={t('burnable.state')}
        isSmall
        defaultValue={burnable.state}
        onAnswered={(value) => set({ state: states.find((one) => one === value) ?? 'stays' })}
        options={states.map((value) => ({
          value,
          label: t(`burnable.states.${value}`),
          ...(value === 'unprotectable' ? { consequence: t('burnable.neither') } : {}),
        }))}
      />
      <ThreeWayAnswer
        name={`easy-${mark.id}`}
        label={t('burnable.easy')}
        isSmall
        defaultValue={yesNo(burnable.isEasilyLit) ?? 'no'}
        onAnswered={(value) => set({ isEasilyLit: value === 'yes' })}
        options={[
          { value: 'yes', label: t('yes') },
          { value: 'no', label: t('no') },
        ]}
      />
    </>
  )
}

function HeadPart({ mark, change }: PartProps) {
  const t = useTranslations('permit.drawing')
  if (!mark.head) return null
  return (
    <ThreeWayAnswer
      name={`reached-${mark.id}`}
      label={t('head.reached')}
      isSmall
      defaultValue={yesNo(mark.head.isReached) ?? 'no'}
      onAnswered={(value) => change({ head: { isReached: value === 'yes' } })}
      options={[
        { value: 'yes', label: t('head.shield') },
        { value: 'no', label: t('no') },
      ]}
    />
  )
}

const RATINGS = ['1-10', '2-20', '3-40', '4-60'] as const

function ExtinguisherPart({ mark, change }: PartProps) {
  const t = useTranslations('permit.drawing')
  const { extinguisher } = mark
  if (!extinguisher) return null
  const rated = (value: string) => {
    const [ratingA = 0, ratingB = 0] = value.split('-').map(Number)
    change({ extinguisher: { ratingA, ratingB } })
  }
  return (
    <ThreeWayAnswer
      name={`rating-${mark.id}`}
      label={t('extinguisher.rating')}
      isSmall
      defaultValue={`${extinguisher.ratingA}-${extinguisher.ratingB}`}
      onAnswered={rated}
      options={RATINGS.map((value) => ({
        value,
        label: t('extinguisher.rated', {
          a: value.split('-')[0] ?? '',
          b: value.split('-')[1] ?? '',
        }),
      }))}
    />
  )
}
