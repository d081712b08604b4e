import 'server-only'
import { type CompanyLayer, type CompanyParameters, companyLayer } from '@/lib/rules/layers'

type Kept = Readonly<{ params: unknown; citation: string }>

/**
 * The company's layer as it is kept; the starting layer where none is. `number` counts the
 * editions up to this one.
 */
export function keptCompanyLayer(kept: Kept | null, number: number): CompanyLayer {
  const stored = kept?.params as
    | Partial<CompanyParameters>
    | { parameters: Partial<CompanyParameters> }
    | undefined
  const changes = stored && 'parameters' in stored ? stored.parameters : (stored ?? {})
  const layer = companyLayer(Math.max(1, number), changes)
  return kept ? { ...layer, citation: kept.citation, edition: String(layer.version) } : layer
}
