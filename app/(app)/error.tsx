'use client'

import { FailedState } from '../_components/states/failed-state'

type ErrorProps = Readonly<{ error: Error & { digest?: string }; reset: () => void }>

/** Navigation stays; only the page failed. Its words never come from the error itself. */
export default function AppError({ error, reset }: ErrorProps) {
  return <FailedState onTryAgain={reset} reference={error.digest} />
}
