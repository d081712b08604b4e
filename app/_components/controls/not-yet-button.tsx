'use client'

import type { ReactNode } from 'react'
import { useId, useState } from 'react'
import { AnswerMark } from '../marks/answer-mark'

type NotYetButtonProps = Readonly<{
  /** What it will do, or when: "Sign to issue", "Round 4 opens 13:30". */
  label: ReactNode
  /** What pressing it shows: a RefusalList or a sentence. */
  reasons: ReactNode
  /** A line under it: "Signing needs signal, and 3 answers." */
  note?: ReactNode
}>

/** A button that can't be used yet: it stays in reach of the keyboard, and pressing it says why. */
export function NotYetButton({ label, reasons, note }: NotYetButtonProps) {
  const id = useId()
  const [isOpen, setIsOpen] = useState(false)
  return (
    <div className="not-yet">
      <div id={id} role="status">
        {isOpen ? reasons : null}
      </div>
      <button
        type="button"
        className="btn btn-not-yet btn-wide"
        aria-controls={id}
        aria-expanded={isOpen}
        onClick={() => setIsOpen((was) => !was)}
      >
        <AnswerMark name="refused" sizePx={20} />
        <span>{label}</span>
      </button>
      {note ? <p className="not-yet-note">{note}</p> : null}
    </div>
  )
}
