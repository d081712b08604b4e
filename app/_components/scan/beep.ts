const GOOD_HZ = 1_320
const BAD_HZ = 220
const LOUDNESS = 0.25

let context: AudioContext | null = null

/** High and short: taken. Low and twice: look at the screen. */
export function beep(isGood: boolean): void {
  context ??= new AudioContext()
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
