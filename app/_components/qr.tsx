import 'server-only'
import { create } from 'qrcode'

/** A code as one path of dark modules, with the four-module quiet zone the standard asks for. */
export function Qr({
  text,
  label,
  sizeMm = 26,
}: Readonly<{ text: string; label: string; sizeMm?: number }>) {
  const { modules } = create(text, { errorCorrectionLevel: 'M' })
  const quiet = 4
  const side = modules.size + 2 * quiet
  const cells = Array.from({ length: modules.size * modules.size }, (_, index) => index).filter(
    (index) => modules.data[index],
  )
  const path = cells
    .map(
      (index) =>
        `M${quiet + (index % modules.size)} ${quiet + Math.floor(index / modules.size)}h1v1h-1z`,
    )
    .join('')
  return (
    <svg
      role="img"
      aria-label={label}
      width={`${sizeMm}mm`}
      height={`${sizeMm}mm`}
      viewBox={`0 0 ${side} ${side}`}
      shapeRendering="crispEdges"
    >
      <rect width={side} height={side} fill="#fff" />
      <path d={path} fill="#000" />
    </svg>
  )
}
