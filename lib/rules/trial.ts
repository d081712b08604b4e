import { loosened } from './compare'
import { tryLayer } from './local'
import { isLaxer, PARAMETER_NAMES } from './parameters'
import type { Decision, Layer, LayerId, ParameterName, PrecautionId } from './types'

/** One published case that a new layer answers otherwise. */
interface ChangedCase {
  probeId: string
  decision: { before: Decision; after: Decision }
  watchMin: { before: number | null; after: number | null }
  /** Precautions that come with it. */
  added: readonly PrecautionId[]
}

interface LooserCase {
  probeId: string
  /** `decision`, `required`, names of duties, ids of precautions. */
  what: readonly string[]
}

/** What a layer would change on the published cases, and whether it may take effect. */
export interface Trial {
  cases: number
  changed: readonly ChangedCase[]
  /** Where the answer is looser than without it: not empty, and it may not take effect. */
  loosened: readonly LooserCase[]
  /** Where a new edition asks for less than the one it replaces. */
  lessThanNow: readonly LooserCase[]
  /** Values that count for nothing, because another layer's is stricter. */
  idle: readonly { name: ParameterName; layerId: LayerId }[]
}

/**
 * Tries a layer on every published case beside the layers in force.
 *
 * @param layer the new layer, or the new edition of one that it then replaces
 * @param site the layers in force now, the company's own among them
 */
export function trialOf(layer: Layer, site: readonly Layer[]): Trial {
  const rows = tryLayer(layer, site)
  const others = site.filter((one) => one.id !== layer.id)
  return {
    cases: rows.length,
    changed: rows
      .filter((row) => row.isChanged)
      .map(({ probeId, before, after }) => ({
        probeId,
        decision: { before: before.decision, after: after.decision },
        watchMin: { before: before.postWatchMin, after: after.postWatchMin },
        added: after.precautions
          .map((one) => one.id)
          .filter((id) => before.precautions.every((one) => one.id !== id)),
      })),
    loosened: rows
      .filter((row) => row.loosened.length > 0)
      .map((row) => ({ probeId: row.probeId, what: row.loosened })),
    lessThanNow: rows
      .map((row) => ({ probeId: row.probeId, what: loosened(row.before, row.after) }))
      .filter((row) => row.what.length > 0),
    idle: PARAMETER_NAMES.flatMap((name) => {
      const stricter = others.find((one) =>
        isLaxer(name, layer.parameters[name], one.parameters[name]),
      )
      return stricter && layer.parameters[name] !== false ? [{ name, layerId: stricter.id }] : []
    }),
  }
}
