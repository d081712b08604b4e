import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { type NearMiss, nearKeys, nearMiss } from '@/lib/rules/serial-near'
import { db } from './client'

const MOST_NEAR = 6

export type NearSerial = Readonly<{ serial: string; how: NearMiss }>

/**
 * Serials of the company that this one is nearly like. Serials are the company's own, so whoever may
 * enter one hears of those at other sites too, and of nothing else about them.
 */
export async function nearSerials(_viewer: Viewer, typed: string): Promise<NearSerial[]> {
  const keys = [...nearKeys(typed).keys()]
  const rows = await db.$queryRaw<{ serial: string }[]>`
    SELECT serial FROM cylinders
    WHERE kerf_serial_key(serial) = ANY (${keys}::text[]) AND serial <> ${typed}
    ORDER BY serial LIMIT ${MOST_NEAR}`
  return rows.flatMap(({ serial }) => {
    const how = nearMiss(typed, serial)
    return how ? [{ serial, how }] : []
  })
}
