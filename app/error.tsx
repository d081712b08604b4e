'use client'

import { FailedState } from './_components/states/failed-state'

type ErrorProps = Readonly<{ error: Error & { digest?: string }; reset: () => void }>

export default function RootError({ error, reset }: ErrorProps) {
  return (
    <main className="app-main">
      <FailedState onTryAgain={reset} reference={error.digest} />
    </main>
  )
}
