type ReadCodes = (video: HTMLVideoElement) => Promise<readonly string[]>

const FORMATS = ['qr_code', 'code_128', 'code_39', 'ean_13', 'ean_8', 'itf', 'data_matrix'] as const
const READER_ADDRESS = '/api/scan-reader?v=3.1.6'

interface NativeDetector {
  detect: (source: HTMLVideoElement) => Promise<readonly { rawValue: string }[]>
}
interface NativeDetectorClass {
  new (options: { formats: readonly string[] }): NativeDetector
  getSupportedFormats: () => Promise<readonly string[]>
}

async function nativeReader(): Promise<ReadCodes | null> {
  const Detector = (globalThis as { BarcodeDetector?: NativeDetectorClass }).BarcodeDetector
  if (!Detector) return null
  const supported = await Detector.getSupportedFormats().catch((): string[] => [])
  const formats = FORMATS.filter((format) => supported.includes(format))
  if (!formats.includes('qr_code') || !formats.includes('code_128')) return null
  const detector = new Detector({ formats })
  return async (video) => (await detector.detect(video)).map(({ rawValue }) => rawValue)
}

/** The reader that comes with the app, loaded only where the browser has none of its own. */
async function bundledReader(): Promise<ReadCodes> {
  const { prepareZXingModule, readBarcodes } = await import('zxing-wasm/reader')
  await prepareZXingModule({
    overrides: { locateFile: () => READER_ADDRESS },
    fireImmediately: true,
  })
  const canvas = document.createElement('canvas')
  const drawing = canvas.getContext('2d', { willReadFrequently: true })
  return async (video) => {
    if (!drawing || video.videoWidth === 0) return []
    canvas.width = video.videoWidth
    canvas.height = video.videoHeight
    drawing.drawImage(video, 0, 0)
    const image = drawing.getImageData(0, 0, canvas.width, canvas.height)
    const found = await readBarcodes(image, {
      formats: ['QRCode', 'Code128', 'Code39', 'EAN13', 'EAN8', 'ITF', 'DataMatrix'],
      maxNumberOfSymbols: 4,
    })
    return found.filter((one) => one.isValid).map((one) => one.text)
  }
}

export async function openReader(): Promise<ReadCodes> {
  return (await nativeReader()) ?? (await bundledReader())
}
