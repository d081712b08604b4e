import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type ScanCode, scanVerdict } from '@/lib/rules/scan-verdict'
import { serialOfCode } from '@/lib/rules/scanned-code'
import { db } from './client'
import { monthStart, readNow } from './cylinders'
import { type NearSerial, nearSerials } from './serials'

export type ScanAnswer = Readonly<{
  serial: string
  id: string | null
  gasId: string | null
  sizeName: string | null
  status: string | null
  areaName: string | null
  /** Where it is by the record, when that is another of the viewer's sites. */
  otherSite: string | null
  codes: readonly ScanCode[]
  mustStop: boolean
  near: readonly NearSerial[]
}>

const NOTHING = {
  id: null,
  gasId: null,
  sizeName: null,
  status: null,
  areaName: null,
  otherSite: null,
}

/** What the record says of a code that was read at a site; null for a code that holds no serial. */
export async function lookUpCode(
  viewer: Viewer,
  asked: Readonly<{ siteId: string; code: string; wantedGas: string | null }>,
): Promise<ScanAnswer | null> {
  assertCan(viewer, 'cylinder:read', asked.siteId)
  const serial = serialOfCode(asked.code)
  if (serial === null) return null
  const [found, site, now] = await Promise.all([
    db.cylinder.findUnique({
      where: { serial },
      select: {
        id: true,
        gasId: true,
        status: true,
        siteId: true,
        areaId: true,
        dueMonth: true,
        condition: true,
        size: { select: { name: true } },
      },
    }),
    db.site.findUniqueOrThrow({ where: { id: asked.siteId }, select: { zone: true } }),
    readNow(),
  ])
  if (!found) {
    const near = await nearSerials(viewer, serial)
    return { serial, ...NOTHING, ...scanVerdict(null, asked.wantedGas), near }
  }
  const isHere = found.siteId === asked.siteId
  const isPastDue = found.dueMonth !== null && found.dueMonth < monthStart(now, site.zone)
  const verdict = scanVerdict({ ...found, isHere, isPastDue }, asked.wantedGas)
  // Of a cylinder that stands at somebody else's site only that much is told: it is not from here.
  if (found.siteId !== null && !can(viewer, 'cylinder:read', found.siteId))
    return { serial, ...NOTHING, codes: ['wrong_site'], mustStop: true, near: [] }
  const [area, other] = await Promise.all([
    isHere && found.areaId
      ? db.area.findUnique({ where: { id: found.areaId }, select: { name: true } })
      : null,
    found.siteId && !isHere
      ? db.site.findUnique({ where: { id: found.siteId }, select: { name: true } })
      : null,
  ])
  return {
    serial,
    id: found.id,
    gasId: found.gasId,
    sizeName: found.size.name,
    status: found.status,
    areaName: area?.name ?? null,
    otherSite: other?.name ?? null,
    ...verdict,
    near: [],
  }
}
