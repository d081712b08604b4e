'use client'

import { useTranslations } from 'next-intl'

export type OrderBox = Readonly<{
  sizeId: string
  gas: string
  size: string
  proposed: number
  why: string
  /** Short, or will be by the next truck: the reason is said in heat. */
  isTrouble: boolean
}>

type LineProps = Readonly<{
  box: OrderBox
  price: string | null
  onTyped: (count: number) => void
}>

/** One size: how many, what each costs, and why that many. */
export function OrderLine({ box, price, onTyped }: LineProps) {
  const t = useTranslations('orders')
  const { sizeId, gas, size, proposed, why, isTrouble } = box
  return (
    <tr>
      <td>
        <b className="font-[650]">{gas}</b> <span className="whitespace-nowrap">{size}</span>
        <span className={`block type-small desk:hidden ${isTrouble ? 'text-heat' : 'text-ink-2'}`}>
          {why}
        </span>
      </td>
      <td className="is-figure w-[88px]">
        <input type="hidden" name="sizeId" value={sizeId} />
        <span className="field-box ml-auto w-[72px] desk:min-h-9">
          <input
            name="quantity"
            aria-label={t('box', { gas, size })}
            inputMode="numeric"
            autoComplete="off"
            maxLength={3}
            defaultValue={proposed > 0 ? String(proposed) : ''}
            onChange={(event) => onTyped(Number(event.target.value) || 0)}
            className="text-right"
          />
        </span>
      </td>
      <td className="is-figure">{price ?? t('notSold')}</td>
      <td className={`hidden desk:table-cell ${isTrouble ? 'text-heat' : 'text-ink-2'}`}>{why}</td>
    </tr>
  )
}
