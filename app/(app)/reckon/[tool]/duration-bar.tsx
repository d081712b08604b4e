import { Bar } from '@/app/_components/bar/bar'
import { rangeScale } from '@/app/_components/bar/scale'

const WIDTH_PX = 328
/** Where 27.5 and 72.5 in 100 lie between the middle and the ends of 9 in 10, of a normal distribution. */
const MIDDLE_SHARE = 0.3634

type DurationBarProps = Readonly<{ middleS: number; lowS: number; highS: number }>

/** Burning time as a bar that ends torn: solid to the low end of nine in ten, teeth to the high. */
export function DurationBar({ middleS, lowS, highS }: DurationBarProps) {
  const end = {
    p05: lowS,
    p275: middleS - MIDDLE_SHARE * (middleS - lowS),
    p50: middleS,
    p725: middleS + MIDDLE_SHARE * (highS - middleS),
    p95: highS,
  }
  if (!(highS > 0)) return null
  return (
    <div className="py-2">
      <Bar
        size="row"
        now={0}
        scale={rangeScale({ from: 0, to: highS * 1.02, widthPx: WIDTH_PX })}
        bar={{ state: 'shut', end }}
      />
    </div>
  )
}
