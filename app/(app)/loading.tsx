import { LoadingLines } from '../_components/states/loading-lines'

export default function Loading() {
  return <LoadingLines />
}
