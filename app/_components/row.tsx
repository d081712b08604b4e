import Link from 'next/link'
import type { ReactNode } from 'react'
import { OnwardIcon } from './marks/icons'

type TimeRowProps = Readonly<{
  /** The whole row leads here. */
  href: string
  mark: ReactNode
  title: string
  /** A Countdown, or NumberParts. */
  left: ReactNode
  bar: ReactNode
  /** Under the bar: at the left in ink-2, at the right in ink. */
  note?: ReactNode
  aside?: ReactNode
  /** A second line: an interval, minutes added. Its class is the caller's. */
  second?: ReactNode
}>

/** A row on the phone's one axis: 91 px, 110 with a second bar or note. */
export function TimeRow({ href, mark, title, left, bar, note, aside, second }: TimeRowProps) {
  return (
    <li className="time-row">
      <div className="time-row-head">
        {mark}
        <h3>
          <Link href={href}>{title}</Link>
        </h3>
        <span className="time-row-left">{left}</span>
      </div>
      <div className="time-row-bar">{bar}</div>
      {note || aside ? (
        <div className="time-row-notes">
          <span>{note}</span>
          <span>{aside}</span>
        </div>
      ) : null}
      {second ? <div className="time-row-second">{second}</div> : null}
    </li>
  )
}

type PlainRowProps = Readonly<{
  mark?: ReactNode
  title: ReactNode
  /** A line under the title. */
  note?: ReactNode
  aside?: ReactNode
  href?: string
  /** Done, and quiet. */
  isQuiet?: boolean
}>

/** A row of mark, title and a word at the right: answers, posts, what waits on someone. */
export function PlainRow({ mark, title, note, aside, href, isQuiet = false }: PlainRowProps) {
  return (
    <li className={`plain-row ${isQuiet ? 'plain-row-quiet' : ''}`}>
      {mark ? <span className="plain-row-mark">{mark}</span> : null}
      <div className="plain-row-words">
        <span className="plain-row-title">{href ? <Link href={href}>{title}</Link> : title}</span>
        {note ? <span className="plain-row-note">{note}</span> : null}
      </div>
      {aside ? <span className="plain-row-aside">{aside}</span> : null}
      {href ? <OnwardIcon /> : null}
    </li>
  )
}

/** Facts as pairs: "Cutting  Luis Arce". */
export function FactList({
  facts,
}: Readonly<{ facts: readonly Readonly<{ name: string; value: ReactNode }>[] }>) {
  return (
    <dl className="facts">
      {facts.map((fact) => (
        <div key={fact.name}>
          <dt>{fact.name}</dt>
          <dd>{fact.value}</dd>
        </div>
      ))}
    </dl>
  )
}

/** Reversed, paper on heat: what is past its end. */
export function PastEnd({ children }: Readonly<{ children: ReactNode }>) {
  return <strong className="past-end">{children}</strong>
}
