"""From tapes, scales, benches and photographs to numbers with an honest ±: arrays in, arrays out, SI."""

__all__: list[str] = []
