import { useTranslations } from 'next-intl'
import { ButtonLink } from './_components/controls/button'
import { EmptyState } from './_components/states/empty-state'
import { Wordmark } from './_components/wordmark'

/** Another site's record answers the same as one that never was. */
export default function NotFound() {
  const t = useTranslations('states')
  return (
    <main className="app-main">
      <p className="state">
        <Wordmark />
      </p>
      <EmptyState
        isPage
        title={t('notFound')}
        next={t('notFoundNext')}
        action={<ButtonLink href="/">{t('toStart')}</ButtonLink>}
      />
    </main>
  )
}
