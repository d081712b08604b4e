import { useTranslations } from 'next-intl'
import type { OncePassword } from '@/lib/data/people-set-up'

/** The password of one sign-in, to hand over: nobody can read it anywhere again. */
export function OncePasswordSlip({ given }: Readonly<{ given: OncePassword }>) {
  const t = useTranslations('people')
  return (
    <div role="status" className="mb-4 border-l-4 border-ink py-2 pl-4">
      {given.oncePassword === null ? (
        <p>{t('onceShown')}</p>
      ) : (
        <>
          <p>{t('onceIs', { days: given.days })}</p>
          <p className="type-ident py-1 text-[22px]">{given.oncePassword}</p>
          <p className="type-small text-ink-2">{t('onceNote')}</p>
        </>
      )}
    </div>
  )
}
