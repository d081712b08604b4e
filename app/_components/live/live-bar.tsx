'use client'

import type { BarSize } from '../bar/bar'
import { Bar } from '../bar/bar'
import { HeldBars } from '../bar/held-bars'
import type { LyingBar } from '../bar/lying-types'
import { useAxis } from './axis'

type LiveBarProps = Readonly<{
  bar: LyingBar
  size: BarSize
  sentence?: string
  isStudied?: boolean
}>

/** A bar on the ClockAxis above it; it burns by the server's clock. Values are milliseconds. */
export function LiveBar(props: LiveBarProps) {
  const { scale, nowMs } = useAxis()
  return <Bar {...props} scale={scale} now={nowMs} />
}

type LiveHeldBarsProps = Readonly<Omit<Parameters<typeof HeldBars>[0], 'scale' | 'now'>>

export function LiveHeldBars(props: LiveHeldBarsProps) {
  const { scale, nowMs } = useAxis()
  return <HeldBars {...props} scale={scale} now={nowMs} />
}
