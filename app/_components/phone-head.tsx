import Link from 'next/link'
import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { BackIcon } from './marks/icons'

type PhoneHeadProps = Readonly<{
  title: ReactNode
  /** One line of where: "Stack platform, Ostrander Mill". */
  where?: ReactNode
  backHref?: string
  /** At the right: a Status, or a figure with its word. */
  aside?: ReactNode
  /** Heads of rows below a title that is on the desk too are h2. */
  level?: 1 | 2
}>

/** Back, title, where. Shown below 720 px; pair it with DeskPageHead. */
export function PhoneHead({ title, where, backHref, aside, level = 1 }: PhoneHeadProps) {
  const t = useTranslations('nav')
  const Heading = level === 1 ? 'h1' : 'h2'
  return (
    <header className={`phone-head ${backHref ? '' : 'phone-head-top'}`}>
      {backHref ? (
        <Link href={backHref} className="phone-head-back" aria-label={t('back')}>
          <BackIcon />
        </Link>
      ) : null}
      <div className="phone-head-words">
        <Heading className="type-phone-title">{title}</Heading>
        {where ? <div className="type-note text-ink-2">{where}</div> : null}
      </div>
      {aside ? <div className="phone-head-aside">{aside}</div> : null}
    </header>
  )
}
