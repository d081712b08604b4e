'use client'

import { useTranslations } from 'next-intl'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { PARAMETER_NAMES, PARAMETER_RULES } from '@/lib/rules/parameters'
import type { LayerParameters, ParameterName } from '@/lib/rules/types'
import { parameterBox } from '@/lib/schemas/rules'

const UNITS = ['Min', 'Hours', 'Pct', 'Ppm', 'Mph'] as const
const unitOf = (name: ParameterName) => UNITS.find((unit) => name.endsWith(unit)) ?? 'Min'
const typedOf = (value: LayerParameters[ParameterName] | undefined) =>
  typeof value === 'number' ? String(value) : value === true ? 'yes' : ''

/** A box for every value that a layer can set; empty: the layer is silent on it. */
export function ParameterBoxes({
  values = {},
  without = [],
}: Readonly<{ values?: Partial<LayerParameters>; without?: readonly ParameterName[] }>) {
  const t = useTranslations('rules')
  return (
    <div className="grid gap-x-8 gap-y-3 desk:grid-cols-2">
      {PARAMETER_NAMES.filter((name) => !without.includes(name)).map((name) =>
        PARAMETER_RULES[name].kind === 'flag' ? (
          <SelectField
            key={name}
            name={parameterBox(name)}
            label={t(`parameters.${name}`)}
            defaultValue={typedOf(values[name])}
            emptyLabel={t('silent')}
            options={[{ value: 'yes', label: t('units.yes') }]}
          />
        ) : (
          <TextField
            key={name}
            name={parameterBox(name)}
            inputMode="decimal"
            autoComplete="off"
            label={t('inUnit', { name: t(`parameters.${name}`), unit: t(`unit.${unitOf(name)}`) })}
            defaultValue={typedOf(values[name])}
          />
        ),
      )}
    </div>
  )
}
