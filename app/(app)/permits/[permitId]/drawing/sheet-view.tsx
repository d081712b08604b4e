'use client'

import { useTranslations } from 'next-intl'
import type { KeyboardEvent, MouseEvent } from 'react'
import { useState } from 'react'
import { usePrefs } from '@/app/_components/live/prefs'
import type { AreaDrawing, DrawnPoint, DrawnSheet } from '@/lib/permit/drawing'
import { feetBetween, LIMIT_CIRCLE_M, M_PER_FT } from '@/lib/permit/drawing'
import { gridStepM, markAt, stepped } from '@/lib/permit/drawing-edit'
import type { MarkFinding } from '@/lib/permit/drawing-findings'
import { MarkShape, WorkShape } from './mark-shape'
import { useDistanceWords } from './words'

/** The sheet is drawn so wide, whatever it shows; marks keep their size. */
const WIDTH = 328
const REACH = 26
const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

type SheetViewProps = Readonly<{
  drawing: AreaDrawing
  sheet: DrawnSheet
  findings: readonly MarkFinding[]
  chosenId: string | null
  /** What a tap puts down, in words; null: a tap chooses what is there. */
  placing: string | null
  onPlace: (at: DrawnPoint) => void
  onChoose: (id: string | null) => void
}>

/** One level to scale. A tap, or arrows and Enter, put down what is in hand or choose what is there. */
export function SheetView(props: SheetViewProps) {
  const { drawing, sheet, chosenId, placing, onPlace, onChoose } = props
  const t = useTranslations('permit.drawing')
  const { units } = usePrefs()
  const distance = useDistanceWords()
  const [cursor, setCursor] = useState<DrawnPoint | null>(null)
  const perM = WIDTH / sheet.widthM
  const corner = { xM: 0, yM: 0 }
  const act = (at: DrawnPoint) => {
    if (placing) onPlace(at)
    else onChoose(markAt(drawing, sheet.id, at, REACH / perM)?.id ?? null)
  }
  const onTap = (event: MouseEvent<HTMLDivElement>) => {
    const picture = event.currentTarget.firstElementChild ?? event.currentTarget
    const box = picture.getBoundingClientRect()
    const scale = sheet.widthM / (box.width || 1)
    const at = { xM: (event.clientX - box.left) * scale, yM: (event.clientY - box.top) * scale }
    act(stepped(sheet, at, corner))
    setCursor(null)
  }
  const middle = { xM: sheet.widthM / 2, yM: sheet.depthM / 2 }
  const onKey = (event: KeyboardEvent<HTMLDivElement>) => {
    const step = STEPS[event.key]
    const at = cursor ?? sheet.column ?? middle
    if (step) {
      const by = (units === 'si' ? 0.25 : M_PER_FT) * (event.shiftKey ? 5 : 1)
      setCursor(stepped(sheet, at, { xM: step[0] * by, yM: step[1] * by }))
    } else if (event.key === 'Enter' || event.key === ' ') act(at)
    else return
    event.preventDefault()
  }
  const from = sheet.column ?? corner
  const said = cursor
    ? t(sheet.column ? 'cursorFromWork' : 'cursorFromCorner', {
        distance: distance(feetBetween(cursor, from)),
      })
    : ''
  return (
    <div>
      <div
        className="plan"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrows and Enter draw on it
        tabIndex={0}
        aria-label={t(placing ? 'sheetPlacing' : 'sheetLabel', {
          name: sheet.name,
          what: placing ?? '',
        })}
        onClick={onTap}
        onKeyDown={onKey}
      >
        <Picture {...props} perM={perM} cursor={cursor} chosenId={chosenId} units={units} />
      </div>
      <p className="type-small min-h-5 text-ink-2" role="status">
        {said}
      </p>
    </div>
  )
}

type PictureProps = SheetViewProps &
  Readonly<{ perM: number; cursor: DrawnPoint | null; units: 'us' | 'si' }>

function Picture({ drawing, sheet, findings, chosenId, perM, cursor, units }: PictureProps) {
  const t = useTranslations('permit.drawing')
  const height = sheet.depthM * perM
  const at = (point: DrawnPoint) => `translate(${point.xM * perM} ${point.yM * perM})`
  const numberOf = (id: string) => drawing.marks.findIndex((mark) => mark.id === id) + 1
  const { column } = sheet
  return (
    <svg viewBox={`0 0 ${WIDTH} ${height}`} aria-hidden="true">
      {sheet.pictureId ? (
        <image
          href={`/api/photos/${sheet.pictureId}`}
          width={WIDTH}
          height={height}
          preserveAspectRatio="none"
          opacity="0.55"
        />
      ) : (
        <Grid sheet={sheet} perM={perM} height={height} units={units} />
      )}
      {column ? (
        <>
          <circle
            className="plan-limit"
            cx={column.xM * perM}
            cy={column.yM * perM}
            r={LIMIT_CIRCLE_M * perM}
          />
          <text
            x={Math.min(Math.max(column.xM * perM, 46), WIDTH - 46)}
            y={Math.max((column.yM - LIMIT_CIRCLE_M) * perM - 5, 14)}
            textAnchor="middle"
          >
            {t('limit')}
          </text>
          <g transform={at(column)}>
            <WorkShape />
          </g>
        </>
      ) : null}
      {findings
        .filter(({ mark }) => mark.sheetId === sheet.id)
        .map(({ mark, wordings }) => (
          <g
            key={mark.id}
            transform={at(mark.at)}
            className={wordings.some((one) => one.isCaught) ? 'plan-caught' : undefined}
          >
            {mark.id === chosenId ? <circle className="plan-chosen" r="15" /> : null}
            <MarkShape kind={mark.kind} />
            <text x="11" y="-7">
              {numberOf(mark.id)}
            </text>
          </g>
        ))}
      {cursor ? (
        <path className="plan-cursor" transform={at(cursor)} d="M-14 0h10M4 0h10M0 -14v10M0 4v10" />
      ) : null}
    </svg>
  )
}

type GridProps = Readonly<{
  sheet: DrawnSheet
  perM: number
  height: number
  units: 'us' | 'si'
}>

function Grid({ sheet, perM, height, units }: GridProps) {
  const step = gridStepM(sheet.widthM, units)
  const lines = (lengthM: number) =>
    Array.from({ length: Math.floor(lengthM / step) }, (_, index) => (index + 1) * step * perM)
  return (
    <g className="plan-grid">
      {lines(sheet.widthM).map((x) => (
        <path key={`x${x}`} d={`M${x} 0V${height}`} />
      ))}
      {lines(sheet.depthM).map((y) => (
        <path key={`y${y}`} d={`M0 ${y}H${WIDTH}`} />
      ))}
    </g>
  )
}
