import { useTranslations } from 'next-intl'

/** 2 px lines where rows will be, after 400 ms. */
export function LoadingLines({ what, rows = 4 }: Readonly<{ what?: string; rows?: number }>) {
  const t = useTranslations('states')
  const widths = ['75%', '100%', '57%', '88%']
  return (
    <div className="state loading-lines" role="status">
      {Array.from({ length: rows }, (_, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines without identity
        <i key={index} style={{ width: widths[index % widths.length] }} aria-hidden="true" />
      ))}
      <p>{what ? t('getting', { what }) : t('gettingPage')}</p>
    </div>
  )
}
