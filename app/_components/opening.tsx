'use client'

import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { createContext, useContext, useId, useState } from 'react'

interface OpeningState {
  readonly id: string
  readonly isOpen: boolean
  readonly toggle: () => void
}

const OpeningContext = createContext<OpeningState | null>(null)

function useOpening(): OpeningState {
  const state = useContext(OpeningContext)
  if (!state) throw new Error('an opening number or panel needs an Opening around it')
  return state
}

/** Ties a number to the panel that opens under its row. It draws nothing, so rows and table rows fit in it. */
export function Opening({ children }: Readonly<{ children: ReactNode }>) {
  const id = useId()
  const [isOpen, setIsOpen] = useState(false)
  return (
    <OpeningContext value={{ id, isOpen, toggle: () => setIsOpen((was) => !was) }}>
      {children}
    </OpeningContext>
  )
}

type OpeningNumberProps = Readonly<{
  children: ReactNode
  /** What a screen reader says before "show where it comes from": "152 cubic feet". */
  spoken: string
}>

/** The number, dotted under in cobalt. The same press closes. */
export function OpeningNumber({ children, spoken }: OpeningNumberProps) {
  const t = useTranslations('kit.opening')
  const { id, isOpen, toggle } = useOpening()
  return (
    <button
      type="button"
      className="opening-number"
      aria-expanded={isOpen}
      aria-controls={id}
      onClick={toggle}
      aria-label={t(isOpen ? 'hide' : 'show', { spoken })}
    >
      <span>{children}</span>
    </button>
  )
}

/** Opens in place, with a 4 px cobalt rule on the left. */
export function OpeningPanel({ children }: Readonly<{ children: ReactNode }>) {
  const { id, isOpen } = useOpening()
  return (
    <div id={id} hidden={!isOpen} className="opening-panel">
      {children}
    </div>
  )
}

/** The same under a table's row. */
export function OpeningTableRow({
  columns,
  children,
}: Readonly<{ columns: number; children: ReactNode }>) {
  const { id, isOpen } = useOpening()
  return (
    <tr id={id} hidden={!isOpen} className="opening-row">
      <td colSpan={columns}>
        <div className="opening-panel">{children}</div>
      </td>
    </tr>
  )
}
