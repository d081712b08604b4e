'use client'

import { useTranslations } from 'next-intl'
import { usePrefs } from '@/app/_components/live/prefs'
import { openedCut } from '@/lib/calc/opened-cut'
import { CutTerms } from '../cut-terms'
import type { RowsProps } from './desk-grid'
import type { SheetRow } from './sheet-state'

type RowTermsProps = Pick<RowsProps, 'list' | 'crew'> & Readonly<{ row: SheetRow; index: number }>

/** Where the number of a row comes from, as it is typed. */
export function RowTerms({ row, index, list, crew }: RowTermsProps) {
  const t = useTranslations('sheet')
  const prefs = usePrefs()
  const opened = row.input ? openedCut(row.input, list) : null
  if (!opened) return <p className="type-note text-ink-2">{t('noNumber')}</p>
  return <CutTerms number={index + 1} opened={opened} crew={crew} fuel={list.fuel} prefs={prefs} />
}
