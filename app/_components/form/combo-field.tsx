'use client'

import { useTranslations } from 'next-intl'
import type { KeyboardEvent, ReactNode } from 'react'
import { useId, useMemo, useRef, useState } from 'react'
import { FieldError } from './field-error'
import { useFieldErrors } from './kept-form'

type ComboFieldProps = Readonly<{
  name: string
  label: ReactNode
  note?: ReactNode
  /** Whose errors stand under it, where the form sends it under another name. */
  errorName?: string
  options: readonly string[]
  text: string
  onText: (text: string) => void
  /** A name as it is read: `W12x50` as "W12×50". */
  show?: (option: string) => string
}>

const MOST_SHOWN = 60

const plain = (text: string) =>
  text
    .toLowerCase()
    .replaceAll('×', 'x')
    .replace(/["\s#]+/g, '')

/** Options that begin with what is typed, then those that hold it. */
function matching(options: readonly string[], typed: string): readonly string[] {
  const wanted = plain(typed)
  if (wanted === '') return options.slice(0, MOST_SHOWN)
  const starts = options.filter((option) => plain(option).startsWith(wanted))
  const holds = options.filter(
    (option) => !plain(option).startsWith(wanted) && plain(option).includes(wanted),
  )
  return [...starts, ...holds].slice(0, MOST_SHOWN)
}

/** A box that finds a name in a long list: typing narrows it, arrows and Enter choose, Escape leaves it as typed. */
export function ComboField({
  name,
  label,
  note,
  errorName = name,
  options,
  text,
  onText,
  show = (option) => option,
}: ComboFieldProps) {
  const t = useTranslations('kit.combo')
  const id = useId()
  const list = useRef<HTMLDivElement>(null)
  const [isOpen, setIsOpen] = useState(false)
  const [at, setAt] = useState(-1)
  const errors = useFieldErrors(errorName)
  const found = useMemo(() => matching(options, isOpen ? text : ''), [options, text, isOpen])
  const close = () => {
    setIsOpen(false)
    setAt(-1)
  }
  const choose = (option: string | undefined) => {
    if (option !== undefined) onText(show(option))
    close()
  }
  const go = (next: number) => {
    setIsOpen(true)
    setAt(next)
    list.current?.children[next]?.scrollIntoView({ block: 'nearest' })
  }
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'ArrowDown') go(Math.min(found.length - 1, at + 1))
    else if (event.key === 'ArrowUp' && isOpen) go(Math.max(0, at - 1))
    else if (event.key === 'Enter' && isOpen && at >= 0) choose(found[at])
    else if (event.key === 'Escape' && isOpen) close()
    else return
    event.preventDefault()
  }
  return (
    <div className={`field ${errors.length > 0 ? 'field-wrong' : ''}`}>
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <div className="combo">
        <div className="field-box">
          <input
            id={id}
            name={name}
            type="text"
            role="combobox"
            autoComplete="off"
            spellCheck={false}
            value={text}
            aria-autocomplete="list"
            aria-expanded={isOpen}
            aria-controls={`${id}-list`}
            aria-activedescendant={isOpen && at >= 0 ? `${id}-${at}` : undefined}
            aria-invalid={errors.length > 0 || undefined}
            aria-describedby={`${id}-error ${id}-note`}
            onChange={(event) => {
              onText(event.target.value)
              setIsOpen(true)
              setAt(-1)
            }}
            onClick={() => setIsOpen(true)}
            onBlur={close}
            onKeyDown={onKeyDown}
          />
        </div>
        <div
          ref={list}
          id={`${id}-list`}
          role="listbox"
          aria-label={t('list')}
          className="combo-list"
          hidden={!isOpen || found.length === 0}
        >
          {isOpen
            ? found.map((option, index) => (
                // biome-ignore lint/a11y/useKeyWithClickEvents: the box has the focus and its keys choose
                <div
                  key={option}
                  id={`${id}-${index}`}
                  role="option"
                  tabIndex={-1}
                  aria-selected={index === at}
                  // The box keeps the focus while a name is pressed.
                  onPointerDown={(event) => event.preventDefault()}
                  onClick={() => choose(option)}
                >
                  {show(option)}
                </div>
              ))
            : null}
        </div>
      </div>
      <p className="sr-only" role="status">
        {isOpen ? t('found', { count: found.length }) : ''}
      </p>
      <FieldError id={`${id}-error`} errors={errors} words={undefined} />
      <p className="field-note" id={`${id}-note`}>
        {note}
      </p>
    </div>
  )
}
