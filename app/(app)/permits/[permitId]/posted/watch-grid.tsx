import { useTranslations } from 'next-intl'
import type { PostedSheet } from '@/lib/data/watch/sheet'

const MOST_COLUMNS = 8

/** The watch by pen: rounds across, posts down, a letter in each, then the minutes that were added. */
export function WatchGrid({ sheet }: Readonly<{ sheet: PostedSheet }>) {
  const t = useTranslations('posted')
  const { watchMin, roundIntervalMin, posts } = sheet
  if (watchMin === 0) return null
  const count = Math.min(MOST_COLUMNS, Math.ceil(watchMin / Math.max(1, roundIntervalMin)))
  const rounds = Array.from({ length: count }, (_, index) => (index + 1) * roundIntervalMin)
  return (
    <section>
      <div className="flex justify-between gap-4">
        <h2>{t('afterTorchOut')}</h2>
        <p>{t('penIn')}</p>
      </div>
      <div className="posted-watch">
        <table>
          <thead>
            <tr>
              <th scope="col">
                {t('torchOut')} <span className="posted-line" />:<span className="posted-line" />
              </th>
              {rounds.map((minutes) => (
                <th key={minutes} scope="col">
                  {t('minutes', { minutes })}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {posts.map((post, index) => (
              <tr key={post}>
                <th scope="row" className="font-normal">
                  {index + 1} {post}
                </th>
                {rounds.map((minutes) => (
                  <td key={minutes} />
                ))}
              </tr>
            ))}
            <tr>
              <th scope="row">{t('initials')}</th>
              {rounds.map((minutes) => (
                <td key={minutes} />
              ))}
            </tr>
          </tbody>
        </table>
        <p className="posted-wall">
          <b>{t('minutes', { minutes: watchMin })}</b>
          {t('fromTorchOut')}
          <br />
          {t('plusLate')} <span className="posted-line" />
        </p>
      </div>
      <p className="mt-2">
        <b>{t('paper')}</b>
      </p>
      <p className="mt-2 flex gap-2">
        <b>{t('seen')}</b>
        <span className="posted-line flex-1" />
      </p>
    </section>
  )
}
