import type { SupplySize } from './estimate-types'
import { isGasCode } from './gas-data'

/** A size as the catalogue keeps it: what is not known is null. */
export type CatalogueSize = Readonly<{
  id: string
  gasId: string
  nominalKg: number
  waterVolumeL: number | null
  fullGaugeKpa: number | null
  heelKg: number
  changeAtGaugeKpa: number | null
}>

/**
 * A size of the catalogue as the calculations take it.
 *
 * @param size the catalogue's row
 * @returns the size without what is not known; null for a gas that this library has no numbers for
 */
export function supplySizeOf(size: CatalogueSize): SupplySize | null {
  if (!isGasCode(size.gasId)) return null
  return {
    gas: size.gasId,
    sizeCode: size.id,
    nominalKg: size.nominalKg,
    heelKg: size.heelKg,
    ...(size.fullGaugeKpa === null ? {} : { ratedGaugePressureKpa: size.fullGaugeKpa }),
    ...(size.waterVolumeL === null ? {} : { waterVolumeL: size.waterVolumeL }),
    ...(size.changeAtGaugeKpa === null ? {} : { changeAtGaugePressureKpa: size.changeAtGaugeKpa }),
  }
}
