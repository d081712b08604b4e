import type { Action } from '../../lib/access/access'
import { BUILT_PIN, type BuiltPerson } from '../../seed/builders/people'
import type { PermitStage } from './stages'
import type { Scene } from './world'

export type Fields = Readonly<Record<string, string | readonly string[]>>

/**
 * One server action: what it asks for, and an input that succeeds for everyone who may. `own`: an
 * act on oneself, that every signed-in person may do and nobody for another.
 */
export interface ActionRow {
  needs: Action | 'own'
  stage?: PermitStage
  /** The page whose form it is. */
  path: (scene: Scene) => string | Promise<string>
  input: (scene: Scene, person: BuiltPerson) => Promise<Fields> | Fields
  /** The form names a thing of one person's: sent by another, it is not there. */
  namesOwner?: true
  /** Whoever did it has to sign in anew. */
  endsSession?: true
}

export const PIN = { pin: BUILT_PIN }
export const permitId = (scene: Scene) => scene.permit?.permit.id ?? ''
export const onPermit = async (scene: Scene) => ({
  permitId: permitId(scene),
  version: String(await scene.read('SELECT version FROM permits WHERE id = $1', [permitId(scene)])),
  contentHash: String(await scene.read('SELECT kerf_permit_hash($1)', [permitId(scene)])),
})
export const permitPath = (tail: string) => (scene: Scene) => `/permits/${permitId(scene)}${tail}`
