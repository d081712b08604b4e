import Link from 'next/link'
import { useTranslations } from 'next-intl'
import type { ButtonHTMLAttributes, ReactNode } from 'react'

type Kind = 'main' | 'plain'

const classOf = (kind: Kind, isWide: boolean, isRow: boolean) =>
  ['btn', kind === 'main' ? 'btn-main' : '', isWide ? 'btn-wide' : '', isRow ? 'btn-row' : '']
    .filter(Boolean)
    .join(' ')

interface Look {
  /** One main button a screen. */
  kind?: Kind
  isWide?: boolean
  /** 48 high, 16 px: a button inside a row. */
  isRow?: boolean
  children: ReactNode
}

type ButtonProps = Readonly<
  Look & { isWaiting?: boolean } & Omit<
      ButtonHTMLAttributes<HTMLButtonElement>,
      'className' | 'children'
    >
>

/** While it waits it says "Sending" at the same width; its form ignores a second press. */
export function Button({
  kind = 'plain',
  isWide = false,
  isRow = false,
  isWaiting = false,
  children,
  type = 'button',
  ...rest
}: ButtonProps) {
  const t = useTranslations('kit.button')
  return (
    <button
      {...rest}
      type={type}
      className={classOf(kind, isWide, isRow)}
      aria-busy={isWaiting || undefined}
    >
      <span className="btn-face">
        <span className={isWaiting ? 'is-away' : ''} aria-hidden={isWaiting || undefined}>
          {children}
        </span>
        {isWaiting ? <span>{t('sending')}</span> : null}
      </span>
    </button>
  )
}

type ButtonLinkProps = Readonly<Look & { href: string; prefetch?: boolean }>

/** Looks like a button, goes somewhere. */
export function ButtonLink({
  kind = 'plain',
  isWide = false,
  isRow = false,
  href,
  children,
  ...rest
}: ButtonLinkProps) {
  return (
    <Link {...rest} href={href} className={classOf(kind, isWide, isRow)}>
      {children}
    </Link>
  )
}
