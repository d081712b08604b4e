'use client'

import { useTranslations } from 'next-intl'
import { type KeyboardEvent, useLayoutEffect, useState } from 'react'
import { v4 as newId } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { FieldError } from '@/app/_components/form/field-error'
import { useFieldErrors } from '@/app/_components/form/kept-form'
import { readKept } from '@/app/_components/form/kept-values'
import { DeliveryCell } from './delivery-cell'
import type { OrderLine, SizeOption } from './delivery-types'

type DeliveryRowsProps = Readonly<{
  formId: string
  sizes: readonly SizeOption[]
  ordered: readonly OrderLine[] | null
}>
type Row = Readonly<{ id: string; sizeId: string }>

const MOST_ROWS = 60
const emptyRow = (sizeId: string): Row => ({ id: newId(), sizeId })

/** One row a cylinder. A scanner's Enter goes on to the next row, never sends the delivery. */
export function DeliveryRows({ formId, sizes, ordered }: DeliveryRowsProps) {
  const t = useTranslations('deliveries')
  const first = sizes[0]?.id ?? ''
  const [rows, setRows] = useState<readonly Row[]>([{ id: 'first', sizeId: first }])
  const errors = useFieldErrors('rows')

  // Before the form puts kept text back, there must be as many rows as were typed.
  useLayoutEffect(() => {
    const kept = readKept(formId)?.values.serial?.length ?? 0
    if (kept > 1) setRows(Array.from({ length: kept }, () => emptyRow(first)))
  }, [formId, first])

  const add = () =>
    setRows((was) =>
      was.length < MOST_ROWS ? [...was, emptyRow(was.at(-1)?.sizeId ?? first)] : was,
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
  const fillFromOrder = () => {
    const wanted = (ordered ?? []).flatMap((line) =>
      Array.from({ length: line.quantity }, () => emptyRow(line.sizeId)),
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
    <li className="grid grid-cols-2 items-start gap-x-3 gap-y-2 border-b border-rule py-3 desk:grid-cols-[32px_180px_200px_160px_160px_160px_auto]">
      <span className="col-span-2 type-label desk:col-span-1 desk:pt-8">{index + 1}</span>
      <DeliveryCell index={index} name="serial" label={t('serial')} isIdentity />
      <DeliveryCell
        index={index}
        name="sizeId"
        label={t('size')}
        options={sizes}
        defaultValue={row.sizeId}
      />
      <DeliveryCell index={index} name="filledOn" label={t('filledOn')} type="date" />
      <DeliveryCell
        index={index}
        name="dueMonth"
        label={t('dueMonth')}
        type="month"
        placeholder="2027-05"
      />
      <DeliveryCell index={index} name="requalifiedOn" label={t('testedOn')} type="date" />
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
