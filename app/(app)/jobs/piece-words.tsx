import { useTranslations } from 'next-intl'
import type { HeaviestPiece } from '@/lib/data/estimates'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { withUnit } from './figures'

/** "piece 610 lb: rig it". Steel falls: it stands on every cut. */
export function PieceWords({
  piece,
  prefs,
}: Readonly<{ piece: HeaviestPiece | null; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  if (!piece) return <span className="whitespace-nowrap">{t('pieceUnknown')}</span>
  const weight = withUnit(formatQuantity('mass', piece.kg, prefs))
  return (
    <span className="whitespace-nowrap">
      {piece.mustRig
        ? t.rich('pieceRig', {
            weight,
            b: (words) => <b className="font-semibold text-ink">{words}</b>,
          })
        : t('piece', { weight })}
    </span>
  )
}
