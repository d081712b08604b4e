'use client'

import { useTranslations } from 'next-intl'
import { type KeyboardEvent, useEffect, useState } from 'react'
import { v4 as newId } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { FieldError } from '@/app/_components/form/field-error'
import { useFieldErrors } from '@/app/_components/form/kept-form'
import { type Kept, readKept } from '@/app/_components/form/kept-values'
import { OUTCOMES } from '@/lib/schemas/delivery'
import { CELLS, type CellName, DeliveryCell } from './delivery-cell'
import type { OrderLine, SizeOption } from './delivery-types'
import { PasteBox } from './paste-box'

type DeliveryRowsProps = Readonly<{
  formId: string
  sizes: readonly SizeOption[]
  ordered: readonly OrderLine[] | null
  serials: readonly string[]
}>
type Values = Readonly<Partial<Record<CellName, string>>>
type Row = Readonly<{ id: string; values: Values }>

const MOST_ROWS = 60
const newRow = (values: Values): Row => ({ id: newId(), values })

/** The n-th row as it was typed before a reload. */
function keptRow(kept: Kept, row: number): Row {
  return newRow(Object.fromEntries(CELLS.map((name) => [name, kept.values[name]?.[row] ?? ''])))
}

/** One row a cylinder. A scanner's Enter goes on to the next row, never sends the delivery. */
export function DeliveryRows({ formId, sizes, ordered, serials }: DeliveryRowsProps) {
  const t = useTranslations('deliveries')
  const first = sizes[0]?.id ?? ''
  const [rows, setRows] = useState<readonly Row[]>(() =>
    serials.length === 0
      ? [{ id: 'first', values: { sizeId: first } }]
      : serials.map((serial, i) => ({ id: `scanned-${i}`, values: { serial, sizeId: first } })),
  )
  const errors = useFieldErrors('rows')

  // The form puts kept text back into the boxes that are there: one row. The others come with theirs.
  useEffect(() => {
    const kept = readKept(formId)
    const count = kept?.values.serial?.length ?? 0
    if (!kept || count < 2) return
    setRows((was) =>
      was.length >= count
        ? was
        : [
            ...was,
            ...Array.from({ length: count - was.length }, (_, i) => keptRow(kept, was.length + i)),
          ],
    )
  }, [formId])

  const add = () =>
    setRows((was) =>
      was.length < MOST_ROWS
        ? [...was, newRow({ sizeId: was.at(-1)?.values.sizeId ?? first })]
        : was,
    )
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    if (
      event.key !== 'Enter' ||
      !(event.target instanceof HTMLInputElement) ||
      event.target.name !== 'serial'
    )
      return
    event.preventDefault()
    add()
  }
  /** Pasted rows take the place of empty ones. */
  const paste = (pasted: readonly Values[]) =>
    setRows((was) => {
      const kept = was.filter((row) => row.values.serial)
      return [...kept, ...pasted.map((values) => newRow({ sizeId: first, ...values }))].slice(
        0,
        MOST_ROWS,
      )
    })
  const fillFromOrder = () => {
    const wanted = (ordered ?? []).flatMap((line) =>
      Array.from({ length: line.quantity }, () => newRow({ sizeId: line.sizeId })),
    )
    setRows(wanted.slice(0, MOST_ROWS))
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: keys of the boxes inside bubble up to here
    <div onKeyDown={onKeyDown}>
      {ordered ? (
        <div className="mb-3 flex flex-wrap items-center gap-4">
          <p className="type-note text-ink-2">
            {ordered
              .map((line) =>
                t('line', {
                  count: line.quantity,
                  size: sizes.find((size) => size.id === line.sizeId)?.words ?? line.sizeId,
                }),
              )
              .join(', ')}
          </p>
          <Button isRow onClick={fillFromOrder}>
            {t('fillFromOrder')}
          </Button>
        </div>
      ) : null}
      <ol className="border-t-2 border-ink">
        {rows.map((row, index) => (
          <DeliveryRow
            key={row.id}
            row={row}
            index={index}
            sizes={sizes}
            onRemove={
              rows.length > 1
                ? () => setRows((was) => was.filter((other) => other.id !== row.id))
                : null
            }
          />
        ))}
      </ol>
      <FieldError id="rows-error" errors={errors} />
      <p className="mt-3">
        <Button onClick={add}>{t('addRow')}</Button>
      </p>
      <PasteBox sizes={sizes} onRows={paste} />
    </div>
  )
}

type DeliveryRowProps = Readonly<{
  row: Row
  index: number
  sizes: readonly SizeOption[]
  onRemove: (() => void) | null
}>

function DeliveryRow({ row, index, sizes, onRemove }: DeliveryRowProps) {
  const t = useTranslations('deliveries')
  return (
    <li className="grid grid-cols-2 items-start gap-x-3 gap-y-2 border-b border-rule py-3 desk:grid-cols-[32px_repeat(4,minmax(0,1fr))] wide:grid-cols-[32px_repeat(7,minmax(0,1fr))_auto]">
      <span className="col-span-2 type-label desk:col-span-1 desk:pt-8">{index + 1}</span>
      <DeliveryCell
        index={index}
        name="serial"
        values={row.values}
        label={t('serial')}
        isIdentity
      />
      <DeliveryCell
        index={index}
        name="sizeId"
        label={t('size')}
        options={sizes}
        values={row.values}
      />
      <DeliveryCell
        index={index}
        name="filledOn"
        values={row.values}
        label={t('filledOn')}
        type="date"
      />
      <DeliveryCell
        index={index}
        name="dueMonth"
        values={row.values}
        label={t('dueMonth')}
        type="month"
        placeholder="2027-05"
      />
      <DeliveryCell
        index={index}
        name="requalifiedOn"
        values={row.values}
        label={t('testedOn')}
        type="date"
      />
      <DeliveryCell index={index} name="batch" values={row.values} label={t('batch')} isIdentity />
      <DeliveryCell
        index={index}
        name="outcome"
        values={row.values}
        label={t('outcome')}
        options={OUTCOMES.map((id) => ({ id, words: t(`outcomes.${id}`) }))}
      />
      {onRemove ? (
        <span className="desk:pt-6">
          <Button isRow onClick={onRemove} aria-label={t('removeRow', { row: index + 1 })}>
            {t('remove')}
          </Button>
        </span>
      ) : null}
    </li>
  )
}
