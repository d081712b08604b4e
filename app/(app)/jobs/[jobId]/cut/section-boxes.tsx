'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { ComboField } from '@/app/_components/form/combo-field'
import { sectionNames } from '@/lib/calc/sections/named-section'
import { CUT_SHAPES, type CutShapeCode, SHAPES } from '@/lib/schemas/cut-shapes'
import { shownSection } from '../shown-section'

const NAMED = CUT_SHAPES.filter((shape) => SHAPES[shape].family)

type SectionBoxesProps = Readonly<{ shape: CutShapeCode; start: Readonly<Record<string, string>> }>

/** A section by its name in the table, searched as it is typed. Each family keeps its own. */
export function SectionBoxes({ shape, start }: SectionBoxesProps) {
  const t = useTranslations('jobs')
  const [texts, setTexts] = useState(start)
  return (
    <>
      <input type="hidden" name="designation" value={texts[shape] ?? ''} />
      {NAMED.map((one) => {
        const { family } = SHAPES[one]
        return family ? (
          <div key={one} hidden={one !== shape}>
            <ComboField
              name={`section-${one}`}
              errorName="designation"
              label={t('box.designation')}
              note={t('sectionNote', {
                example: t(`sectionExample.${one}` as 'sectionExample.hss'),
              })}
              options={sectionNames(family)}
              text={texts[one] ?? ''}
              onText={(text) => setTexts((was) => ({ ...was, [one]: text }))}
              show={shownSection}
            />
          </div>
        ) : null
      })}
    </>
  )
}
