import 'server-only'
import { db } from './client'
import type { SizeRow } from './contents'

export type StoredCylinder = Readonly<{
  id: string
  serial: string
  gasId: string
  side: string | null
  place: number | null
  contentsKg: number | null
  contentsUKg: number | null
  lastReadingAt: Date | null
  /** When it was put on this outfit. */
  putOnAt: Date | null
  size: SizeRow
}>

export type StoredOutfit = Readonly<{
  id: string
  number: string
  fuelGasId: string
  oxygenPlaces: number
  fuelPlaces: number
  /** Of the permit that lives on it, the one that moved last. */
  cutListId: string | null
  cylinders: readonly StoredCylinder[]
}>

type Json = Omit<StoredCylinder, 'lastReadingAt' | 'putOnAt'> &
  Readonly<{ lastReadingAt: string | null; putOnAt: string | null }>

const instant = (text: string | null) => (text === null ? null : new Date(text))

/** Outfits of a site with what hangs on them and what they are to cut: one statement, however many. */
export async function readOutfits(
  siteId: string,
  outfitIds: readonly string[],
): Promise<StoredOutfit[]> {
  const rows = await db.$queryRaw<(Omit<StoredOutfit, 'cylinders'> & { cylinders: Json[] })[]>`
    SELECT o.id, o.number, o.fuel_gas_id AS "fuelGasId", o.oxygen_places AS "oxygenPlaces", o.fuel_places AS "fuelPlaces",
      (SELECT p.cut_list_id FROM permits p
       WHERE p.outfit_id = o.id AND p.state IN ('open', 'held', 'cleared', 'preparing') AND p.cut_list_id IS NOT NULL
       ORDER BY p.state_at DESC LIMIT 1) AS "cutListId",
      coalesce((
        SELECT jsonb_agg(jsonb_build_object(
          'id', c.id, 'serial', c.serial, 'gasId', c.gas_id, 'side', c.side, 'place', c.place,
          'contentsKg', c.contents_kg, 'contentsUKg', c.contents_u_kg, 'lastReadingAt', c.last_reading_at,
          'putOnAt', (SELECT max(e.at) FROM cylinder_events e
                      WHERE e.cylinder_id = c.id AND e.outfit_id = o.id AND e.kind IN ('put_on', 'found_on')),
          'size', jsonb_build_object(
            'id', z.id, 'gasId', z.gas_id, 'name', z.name, 'nominalKg', z.nominal_kg, 'waterVolumeL', z.water_volume_l,
            'fullGaugeKpa', z.full_gauge_kpa, 'tareKg', z.tare_kg, 'heelKg', z.heel_kg, 'changeAtGaugeKpa', z.change_at_gauge_kpa))
          ORDER BY c.place, c.id)
        FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id WHERE c.outfit_id = o.id), '[]') AS cylinders
    FROM outfits o
    WHERE o.id = ANY(${[...outfitIds]}::uuid[]) AND o.site_id = ${siteId}::uuid
    ORDER BY o.number`
  return rows.map((row) => ({
    ...row,
    cylinders: row.cylinders.map((cylinder) => ({
      ...cylinder,
      lastReadingAt: instant(cylinder.lastReadingAt),
      putOnAt: instant(cylinder.putOnAt),
    })),
  }))
}
