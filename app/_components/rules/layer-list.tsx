import { useTranslations } from 'next-intl'
import { formatNumber } from '@/lib/format/numbers'
import type { LayerCard } from '@/lib/rules/layer-card'
import { LayerName, SourceWords } from './source-words'

const UNITS = ['Min', 'Hours', 'Pct', 'Ppm', 'Mph'] as const

/** Each layer: where it stands, its edition, how far it can be trusted, and the values that it sets. */
export function LayerList({ layers }: Readonly<{ layers: readonly LayerCard[] }>) {
  return (
    <ul>
      {layers.map((layer) => (
        <li key={`${layer.id} ${layer.version}`} className="border-b border-rule py-3">
          <h3 className="type-row-title">
            <LayerName id={layer.id} label={layer.label} />
          </h3>
          <Trust layer={layer} />
          <Values layer={layer} />
        </li>
      ))}
    </ul>
  )
}

function Trust({ layer }: Readonly<{ layer: LayerCard }>) {
  const t = useTranslations('rules')
  const { citation, edition, provenance, trustPct, trustWhy, effectiveFrom, effectiveTo } = layer
  return (
    <div className="type-note text-ink-2">
      <p>{t('source', { citation, edition })}</p>
      <p>
        <b className={`font-semibold ${provenance === 'memory' ? 'text-heat' : 'text-ink'}`}>
          {t(`provenance.${provenance}`)}
        </b>
        . {t(`trust.${trustWhy as 'memory'}`)}
        {trustPct === null ? '' : ` ${t('trustPct', { pct: trustPct })}`}
      </p>
      <p>
        {effectiveTo
          ? t('inForceTo', { from: effectiveFrom, to: effectiveTo })
          : t('inForceFrom', { from: effectiveFrom })}
      </p>
    </div>
  )
}

function Values({ layer }: Readonly<{ layer: LayerCard }>) {
  const t = useTranslations('rules')
  const p = useTranslations('precautions')
  return (
    <>
      {layer.values.length > 0 ? (
        <dl className="mt-2 type-note">
          {layer.values.map(({ name, value, source }) => (
            <div key={name} className="grid grid-cols-[1fr_auto] gap-x-4 border-t border-rule py-1">
              <dt>
                {t(`parameters.${name}`)}
                {source ? (
                  <span className="type-small text-ink-2">
                    <SourceWords source={source} />
                  </span>
                ) : null}
              </dt>
              <dd className="font-semibold">
                <Value name={name} value={value} />
              </dd>
            </div>
          ))}
        </dl>
      ) : null}
      {layer.precautions.length > 0 ? (
        <p className="mt-2 type-note">
          {t('always', { list: layer.precautions.map((id) => p(id)).join('. ') })}
        </p>
      ) : null}
    </>
  )
}

function Value({ name, value }: Readonly<{ name: string; value: number | true }>) {
  const t = useTranslations('rules.units')
  if (value === true) return t('yes')
  const unit = UNITS.find((one) => name.endsWith(one)) ?? 'Min'
  return t(unit, { value: formatNumber(value, Number.isInteger(value) ? 0 : 1) })
}
