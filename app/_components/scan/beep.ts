const GOOD_HZ = 1_320
const BAD_HZ = 220
const LOUDNESS = 0.25

let context: AudioContext | null = null

/** A phone lets a page sound only once somebody has pressed something on it: called from such a press. */
export function wakeSound(): void {
  context ??= new AudioContext()
  if (context.state === 'suspended') void context.resume()
}

/** High and short: taken. Low and twice: look at the screen. */
export function beep(isGood: boolean): void {
  wakeSound()
  if (!context) return
  const starts = isGood ? [0] : [0, 0.25]
  const seconds = isGood ? 0.09 : 0.18
  for (const start of starts) {
    const tone = context.createOscillator()
    const volume = context.createGain()
    volume.gain.value = LOUDNESS
    tone.frequency.value = isGood ? GOOD_HZ : BAD_HZ
    tone.connect(volume).connect(context.destination)
    tone.start(context.currentTime + start)
    tone.stop(context.currentTime + start + seconds)
  }
  if (!isGood) navigator.vibrate?.([120, 80, 120])
}
