import { useTranslations } from 'next-intl'
import { Button } from '@/app/_components/controls/button'
import { RECORD_STATES, type RecordFilter } from '@/lib/schemas/record'

type FilterProps = Readonly<{
  filter: RecordFilter
  sites: readonly Readonly<{ id: string; name: string }>[]
}>

/** A plain form to the same address: the filter stands in it, so that a list can be kept and sent. */
export function FilterForm({ filter, sites }: FilterProps) {
  const t = useTranslations('record.list')
  return (
    <form
      action="/records"
      className="grid grid-cols-2 items-end gap-3 px-4 pb-4 desk:flex desk:px-8"
    >
      <label className="field">
        <span className="field-label">{t('site')}</span>
        <span className="field-box">
          <select name="site" defaultValue={filter.site ?? ''}>
            <option value="">{t('allSites')}</option>
            {sites.map((site) => (
              <option key={site.id} value={site.id}>
                {site.name}
              </option>
            ))}
          </select>
        </span>
      </label>
      <label className="field">
        <span className="field-label">{t('state')}</span>
        <span className="field-box">
          <select name="state" defaultValue={filter.state}>
            {RECORD_STATES.map((state) => (
              <option key={state} value={state}>
                {t(`states.${state}`)}
              </option>
            ))}
          </select>
        </span>
      </label>
      {(['from', 'to'] as const).map((name) => (
        <label key={name} className="field">
          <span className="field-label">{t(name)}</span>
          <span className="field-box">
            <input type="date" name={name} defaultValue={filter[name] ?? ''} />
          </span>
        </label>
      ))}
      <Button type="submit">{t('show')}</Button>
    </form>
  )
}
