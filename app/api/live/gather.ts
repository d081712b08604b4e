type Spans = Readonly<{ firstMs: number; apartMs: number }>

/**
 * Tells of changes as few times as will do: the first after a quiet while `firstMs` later, those that follow together,
 * `apartMs` after that. A busy site is told of once in that time and never later for more that comes.
 */
export function gather(tell: (changes: number) => void, { firstMs, apartMs }: Spans) {
  let changes = 0
  let toldMs = Number.NEGATIVE_INFINITY
  let waiting: ReturnType<typeof setTimeout> | undefined
  const tellAll = () => {
    waiting = undefined
    toldMs = performance.now()
    const told = changes
    changes = 0
    tell(told)
  }
  return {
    add: () => {
      changes += 1
      waiting ??= setTimeout(tellAll, Math.max(firstMs, toldMs + apartMs - performance.now()))
    },
    stop: () => clearTimeout(waiting),
  }
}
