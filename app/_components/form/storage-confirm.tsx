'use client'

import { useTranslations } from 'next-intl'
import { useFailureCode } from './kept-form'
import { TickBox } from './tick-box'

/** Offered once a limit of the area has warned: who puts it there all the same says so, and it is kept. */
export function StorageConfirm() {
  const t = useTranslations('storage')
  if (useFailureCode() !== 'STORAGE_ASKS') return null
  return <TickBox name="storageConfirmed">{t('confirm')}</TickBox>
}
