import type { HistoryState } from './history'
import type { World } from './world'

export function playToday(_world: World, _state: HistoryState): void {}
