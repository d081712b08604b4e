import { useTranslations } from 'next-intl'
import { Button } from '@/app/_components/controls/button'
import type { PlanPage } from '@/lib/data/plan/plan'
import type { PlanAsk } from '@/lib/schemas/plan'

type WhatIfProps = Readonly<{ page: PlanPage; ask: PlanAsk }>

/** Another supplier's day, no truck, one more job: asks the same page again, and changes nothing on record. */
export function WhatIf({ page, ask }: WhatIfProps) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const gases = [...new Set(page.outs.map((out) => out.gasId))]
  return (
    <form action="/plan" className="grid items-end gap-4 desk:grid-cols-6">
      <label className="field">
        <span className="field-label">{t('ifLate')}</span>
        <span className="field-box">
          <input name="late" inputMode="numeric" maxLength={1} defaultValue={String(ask.late)} />
        </span>
      </label>
      <label className="field">
        <span className="field-label">{t('ifTruck')}</span>
        <span className="field-box">
          <select name="truck" defaultValue={ask.hasTruck ? 'yes' : 'no'}>
            <option value="yes">{t('truckYes')}</option>
            <option value="no">{t('truckNo')}</option>
          </select>
        </span>
      </label>
      <label className="field">
        <span className="field-label">{t('ifJob')}</span>
        <span className="field-box">
          <input
            name="addCylinders"
            inputMode="numeric"
            maxLength={2}
            defaultValue={String(ask.addCylinders)}
          />
        </span>
      </label>
      <label className="field">
        <span className="field-label">{t('ifGas')}</span>
        <span className="field-box">
          <select name="addGas" defaultValue={ask.addGas ?? gases[0]}>
            {gases.map((gasId) => (
              <option key={gasId} value={gasId}>
                {g(gasId as 'oxygen')}
              </option>
            ))}
          </select>
        </span>
      </label>
      <label className="field">
        <span className="field-label">{t('ifSite')}</span>
        <span className="field-box">
          <select name="addSite" defaultValue={ask.addSite ?? page.sites[0]?.id}>
            {page.sites.map((site) => (
              <option key={site.id} value={site.id}>
                {site.shortName}
              </option>
            ))}
          </select>
        </span>
      </label>
      <Button type="submit">{t('ask')}</Button>
    </form>
  )
}
