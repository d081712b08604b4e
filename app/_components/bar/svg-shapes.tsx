import type { FrameShape, Paint, Shape } from './shapes'

const colour = (paint: Paint) => `var(--${paint})`
/** A hundredth of a pixel is finer than any screen, and a page has hundreds of bars. */
const px = (value: number) => Math.round(value * 100) / 100

function Frame({ shape, hatchId }: Readonly<{ shape: FrameShape; hatchId: string }>) {
  const half = shape.strokePx / 2
  return (
    <rect
      x={px(shape.x + half)}
      y={px(shape.y + half)}
      width={px(Math.max(0, shape.width - shape.strokePx))}
      height={px(Math.max(0, shape.height - shape.strokePx))}
      fill={shape.isHatched ? `url(#${hatchId})` : 'none'}
      stroke={colour(shape.paint)}
      strokeWidth={shape.strokePx}
      strokeDasharray={shape.dash?.join(' ')}
      data-part={shape.part}
    />
  )
}

function Drawn({ shape, hatchId }: Readonly<{ shape: Shape; hatchId: string }>) {
  switch (shape.kind) {
    case 'rect':
      return (
        <rect
          x={px(shape.x)}
          y={px(shape.y)}
          width={px(shape.width)}
          height={px(shape.height)}
          fill={colour(shape.paint)}
          data-part={shape.part}
        />
      )
    case 'frame':
      return <Frame shape={shape} hatchId={hatchId} />
    case 'text':
      return (
        <text
          x={px(shape.x)}
          y={px(shape.y)}
          fill={colour(shape.paint)}
          fontSize="14"
          fontWeight="650"
          textAnchor="middle"
          dominantBaseline="central"
        >
          {shape.text}
        </text>
      )
    case 'polygon': {
      const points = shape.points.map((point) => point.map(px).join(',')).join(' ')
      const isLine = shape.strokePx !== undefined
      const paint = {
        points,
        fill: isLine ? 'none' : colour(shape.paint),
        stroke: isLine ? colour(shape.paint) : undefined,
        strokeWidth: shape.strokePx,
        'data-part': shape.part,
      }
      return shape.isOpen ? <polyline {...paint} /> : <polygon {...paint} />
    }
  }
}

/** 45 degrees, 2 px on, 3 px off. */
function Hatch({ id }: Readonly<{ id: string }>) {
  return (
    <defs>
      <pattern
        id={id}
        width="5"
        height="5"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(-45)"
      >
        <rect width="2" height="5" fill="var(--heat)" />
      </pattern>
    </defs>
  )
}

/** Draws shapes. Shapes are in order and never reordered, so the index is their key. */
export function SvgShapes({ shapes, id }: Readonly<{ shapes: readonly Shape[]; id: string }>) {
  const hatchId = `hatch-${id}`
  const hasHatch = shapes.some((shape) => shape.kind === 'frame' && shape.isHatched)
  return (
    <>
      {hasHatch ? <Hatch id={hatchId} /> : null}
      {shapes.map((shape, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: shapes have no identity of their own
        <Drawn key={`${shape.part}-${index}`} shape={shape} hatchId={hatchId} />
      ))}
    </>
  )
}
