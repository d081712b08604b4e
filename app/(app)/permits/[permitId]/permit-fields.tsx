'use client'

import { useEffect, useRef } from 'react'

/** What every form on a permit carries unseen: which permit, as it stood, and this device's clock when it was sent. */
export function PermitFields({
  permitId,
  version,
  contentHash,
}: Readonly<{
  permitId: string
  version?: number
  /** Of what the screen shows, where the form is signed. */
  contentHash?: string
}>) {
  return (
    <>
      <input type="hidden" name="permitId" value={permitId} />
      {version === undefined ? null : <input type="hidden" name="version" value={version} />}
      {contentHash === undefined ? null : (
        <input type="hidden" name="contentHash" value={contentHash} />
      )}
      <DeviceClock />
    </>
  )
}

function DeviceClock() {
  const field = useRef<HTMLInputElement>(null)
  useEffect(() => {
    const form = field.current?.form
    const stamp = () => {
      if (field.current) field.current.value = new Date().toISOString()
    }
    // Before the form itself hears of it, so that the value goes out with it.
    form?.addEventListener('submit', stamp, { capture: true })
    return () => form?.removeEventListener('submit', stamp, { capture: true })
  }, [])
  return <input ref={field} type="hidden" name="deviceAt" defaultValue="" />
}
