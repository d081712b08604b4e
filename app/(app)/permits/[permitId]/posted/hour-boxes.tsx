import { useTranslations } from 'next-intl'
import type { PostedSheet } from '@/lib/data/watch/sheet'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { startOfHour } from '@/lib/format/zone'

const HOUR_MS = 3_600_000
const WIDTH = 520
const HEIGHT = 38
const TOP = 20

/** Paper bars burn by pen: a box an hour to cross off, a wall at the last cut, the watch, a thick wall at the end. */
export function HourBoxes({ sheet, prefs }: Readonly<{ sheet: PostedSheet; prefs: FormatPrefs }>) {
  const t = useTranslations('posted')
  const from = sheet.issuedAt.getTime()
  const until = sheet.validUntil.getTime()
  const x = (ms: number) => ((ms - from) / (until - from)) * WIDTH
  const first = startOfHour(from, prefs.timeZone) + HOUR_MS
  const hours = Array.from(
    { length: Math.max(0, Math.ceil((until - first) / HOUR_MS)) },
    (_, index) => first + index * HOUR_MS,
  )
  const lastCut = sheet.lastCutBy?.getTime() ?? null
  const inWork = hours.filter((ms) => lastCut === null || ms < lastCut - HOUR_MS / 6)
  return (
    <svg
      viewBox={`-2 0 ${WIDTH + 12} ${TOP + HEIGHT + 18}`}
      width="100%"
      role="img"
      aria-label={t('hoursLabel', {
        from: formatClock(from, prefs),
        until: formatClock(until, prefs),
      })}
    >
      <rect
        x="0"
        y={TOP}
        width={WIDTH}
        height={HEIGHT}
        fill="none"
        stroke="#000"
        strokeWidth="1.5"
      />
      <text x="0" y="13" fontWeight="650">
        {formatClock(from, prefs)}
      </text>
      {inWork.map((ms) => (
        <g key={ms}>
          <path d={`M${x(ms)} ${TOP}v${HEIGHT}`} stroke="#000" strokeWidth="1" />
          {x(ms) > 48 && (lastCut === null || x(lastCut) - x(ms) > 44) ? (
            <text x={x(ms)} y="13" textAnchor="middle">
              {formatClock(ms, prefs)}
            </text>
          ) : null}
        </g>
      ))}
      {lastCut === null ? null : (
        <g>
          <path d={`M${x(lastCut)} ${TOP - 4}v${HEIGHT + 8}`} stroke="#000" strokeWidth="4" />
          <text x={x(lastCut)} y="13" textAnchor="middle" fontWeight="650">
            {formatClock(lastCut, prefs)}
          </text>
          <text x={x(lastCut)} y={TOP + HEIGHT + 16} textAnchor="middle" fontWeight="650">
            {t('lastCut')}
          </text>
          <text
            x={(x(lastCut) + WIDTH) / 2}
            y={TOP + HEIGHT / 2 + 4}
            textAnchor="middle"
            fontWeight="650"
          >
            {t('watch')}
          </text>
        </g>
      )}
      <rect x={WIDTH - 1} y={TOP - 8} width="9" height={HEIGHT + 16} fill="#000" />
    </svg>
  )
}
