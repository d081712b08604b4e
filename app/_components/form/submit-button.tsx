'use client'

import type { ReactNode } from 'react'
import { Button } from '../controls/button'
import { useIsSending } from './kept-form'

type SubmitButtonProps = Readonly<{
  children: ReactNode
  kind?: 'main' | 'plain'
  isWide?: boolean
  /** Goes out with the form when this button was pressed. */
  name?: string
  value?: string
}>

/** Sends the KeptForm around it, and says "Sending" while it does. */
export function SubmitButton({ kind = 'main', isWide = true, ...rest }: SubmitButtonProps) {
  return <Button {...rest} type="submit" kind={kind} isWide={isWide} isWaiting={useIsSending()} />
}
