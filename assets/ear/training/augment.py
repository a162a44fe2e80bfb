"""Whole batches of speech, disturbed and turned into features on the accelerator. No work per clip."""
import math

import numpy as np
import torch

import features

RATE = features.RATE


def made_noise(count, seconds, device, generator):
    """Noise nobody recorded: coloured, engine-like, gusty, and with clanks. [count, samples], RMS about 0.1."""
    n = int(seconds * RATE)
    white = torch.randn(count, n, device=device, generator=generator)
    spectrum = torch.fft.rfft(white)
    f = torch.linspace(0, RATE / 2, spectrum.shape[1], device=device).clamp_min(20)
    uniform = lambda low, high, *shape: low + (high - low) * torch.rand(*shape, device=device, generator=generator)
    slope = uniform(-1.3, 0.15, count, 1)
    slope[: count // 4] = -0.5                                              # a quarter plain pink
    noise = torch.fft.irfft(spectrum * (f / 500) ** slope, n)
    noise = noise / noise.square().mean(1, keepdim=True).sqrt()
    t = torch.arange(n, device=device) / RATE

    def wobble(rate, depth):                                                # slow random curve about 1
        knots = torch.randn(count, 1, max(4, int(rate * seconds)), device=device, generator=generator)
        return torch.nn.functional.interpolate(knots, n, mode="linear", align_corners=True)[:, 0] * depth

    engine = torch.zeros_like(noise)
    phase = torch.cumsum(uniform(18, 90, count, 1) * (1 + wobble(1, 0.06)), 1) * (2 * math.pi / RATE)
    for k in range(1, 25):
        engine += torch.sin(k * phase + uniform(0, 6.28, count, 1)) * uniform(0.1, 1, count, 1) / k ** 0.8
    engine = engine / engine.square().mean(1, keepdim=True).sqrt()
    share = uniform(0, 1, count, 1)
    third = torch.arange(count, device=device)[:, None] % 3
    gust = torch.exp(wobble(2, 1.0)).clamp_max(6)
    clank = torch.zeros_like(noise)
    for _ in range(6):
        at = uniform(0, seconds, count, 1)
        decay = torch.exp(-(t - at).clamp_min(0) * uniform(8, 60, count, 1)) * (t >= at)
        clank += decay * (torch.sin(2 * math.pi * uniform(300, 4000, count, 1) * t) + white) * uniform(0, 2, count, 1)
    noise = torch.where(third == 0, noise, torch.where(third == 1, share * engine + (1 - share) * noise, noise * gust))
    noise = noise + clank * (uniform(0, 1, count, 1) < 0.15)
    return 0.1 * noise / noise.square().mean(1, keepdim=True).sqrt()


def room_responses(count, device, generator, length=6400):
    t = torch.arange(length, device=device) / RATE
    uniform = lambda low, high: low + (high - low) * torch.rand(count, 1, device=device, generator=generator)
    tail = torch.randn(count, length, device=device, generator=generator) * torch.exp(-6.9 * t / uniform(0.08, 0.7))
    tail *= t > uniform(0.001, 0.02)
    tail *= (10 ** (-uniform(-3, 16) / 20)) / tail.square().sum(1, keepdim=True).sqrt()
    tail[:, 0] = 1
    return tail / tail.square().sum(1, keepdim=True).sqrt()


class Augmenter:
    def __init__(self, sounds, noise, noise_starts, noise_lengths, device, seed):
        self.device, self.random = device, torch.Generator(device).manual_seed(seed)
        self.strength = 1.0                                                 # 0 gentle .. 1 full, raised while training
        self.sounds = torch.from_numpy(sounds).to(device)
        made = torch.cat([made_noise(48, 10, device, self.random) for _ in range(10)])
        real = torch.from_numpy(noise.astype(np.float32) / 32768).to(device)
        self.noise = torch.cat([real, made.flatten()])
        self.real_count = len(noise_starts)
        made_starts = len(real) + np.arange(len(made)) * made.shape[1]
        self.noise_start = torch.tensor(np.concatenate([noise_starts, made_starts]), device=device)
        self.noise_length = torch.tensor(np.concatenate([noise_lengths, np.full(len(made), made.shape[1])]), device=device)
        self.rooms = room_responses(400, device, self.random)
        self.warps = torch.tensor(np.stack([features.mel_matrix(w) for w in np.linspace(0.85, 1.17, 33)] + [features.MEL]), dtype=torch.float32, device=device)
        self.window = torch.tensor(features.WINDOW, dtype=torch.float32, device=device)

    def uniform(self, low, high, *shape):
        return low + (high - low) * torch.rand(*shape, device=self.device, generator=self.random)

    def chance(self, p, count):
        return self.uniform(0, 1, count, 1) < p

    def pick(self, high, count):
        return torch.randint(0, high, (count,), device=self.device, generator=self.random)

    def gather(self, starts, lengths, gaps, speed, size):
        """starts, lengths, gaps: [B, K] in samples; segment k is placed gaps[k] after the end of the one before."""
        lengths = lengths.float()
        n, wave = torch.arange(size, device=self.device), torch.zeros(len(speed), size, device=self.device)
        at = torch.zeros(len(speed), 1, device=self.device)
        for k in range(starts.shape[1]):
            at = at + gaps[:, k:k + 1]
            p = (n - at.round()) * speed
            inside = (p >= 0) & (p < lengths[:, k:k + 1] - 1)
            p = torch.where(inside, p, torch.zeros_like(p))
            i = p.floor()
            x = p - i
            taps = (x * (x * (2 - x) - 1) / 2, (x * x * (3 * x - 5) + 2) / 2, x * (x * (4 - 3 * x) + 1) / 2, x * x * (x - 1) / 2)
            for j, tap in zip((-1, 0, 1, 2), taps):                          # cubic interpolation
                wave += self.sounds[starts[:, k:k + 1] + torch.minimum((i + j).clamp_min(0), (lengths[:, k:k + 1] - 1).clamp_min(0)).long()] * tap * inside
            at = at + (lengths[:, k:k + 1] / speed).ceil()
        return wave / 32768

    def noise_for(self, count, size, real_share):
        index = torch.where(self.chance(real_share, count)[:, 0], self.pick(self.real_count, count), self.real_count + self.pick(len(self.noise_start) - self.real_count, count))
        length = self.noise_length[index][:, None]
        p = self.uniform(0, 1, count, 1) * length + torch.arange(size, device=self.device) * self.uniform(0.8, 1.25, count, 1)
        return self.noise[self.noise_start[index][:, None] + p.long() % length]

    @staticmethod
    def level(wave):
        """RMS of the parts that are not silent."""
        power = wave[:, : wave.shape[1] // 320 * 320].unflatten(1, (-1, 320)).square().mean(2)
        loud = power > 0.02 * power.amax(1, keepdim=True)
        return ((power * loud).sum(1, keepdim=True) / loud.sum(1, keepdim=True).clamp_min(1)).sqrt()

    def colour(self, wave, strength):
        """Random equaliser, high-pass and band limit."""
        count, bins = len(wave), wave.shape[1] // 2 + 1
        f = torch.linspace(0, RATE / 2, bins, device=self.device)
        knots = torch.randn(count, 1, 9, device=self.device, generator=self.random) * strength * self.chance(0.7, count)[:, :, None]
        db = torch.nn.functional.interpolate(knots, bins, mode="linear", align_corners=True)[:, 0]
        db = db - 30 * torch.relu(1 - f / torch.where(self.chance(0.25, count), self.uniform(100, 450, count, 1), torch.ones(count, 1, device=self.device)))
        limit = torch.where(self.chance(0.14, count), self.uniform(3300, 4900, count, 1), torch.full((count, 1), 9000.0, device=self.device))
        db = db - ((f - limit).clamp_min(0) * 0.2).clamp_max(50)
        return torch.fft.irfft(torch.fft.rfft(wave) * 10 ** (db / 20), wave.shape[1])

    def log_mel(self, wave, hop, matrix):
        frames = wave.unfold(1, features.FRAME, hop) * self.window
        spectrum = torch.fft.rfft(frames, features.FFT)
        power = spectrum.real.square() + spectrum.imag.square()
        bands = torch.log(torch.bmm(power, matrix) + 1e-6)
        return bands - bands.mean(1, keepdim=True)

    def mask(self, bands):
        count, frames, width = bands.shape
        for across_bands, size, limit in ((True, width, 9), (False, frames, min(18, frames // 9))):
            n = torch.arange(size, device=self.device)
            for _ in range(2):
                extent = self.uniform(0, limit * self.strength, count, 1)
                first = self.uniform(0, 1, count, 1) * (size - extent)
                hidden = (n >= first) & (n < first + extent)
                bands = bands.masked_fill(hidden[:, None, :] if across_bands else hidden[:, :, None], 0)
        return bands

    def batch(self, starts, lengths, slack=0.6):
        """starts, lengths: [B, K] numpy, length 0 where there is no segment. Returns features [B, T, 64]."""
        count, used, s = len(starts), max(1, int((lengths > 0).any(0).sum())), self.strength
        starts, lengths = torch.from_numpy(starts[:, :used]).to(self.device), torch.from_numpy(lengths[:, :used]).to(self.device)
        speed = torch.where(self.chance(0.3, count), torch.ones(count, 1, device=self.device), self.uniform(0.88, 1.14, count, 1))
        gaps = self.uniform(0.04, 0.4, count, starts.shape[1]) * RATE * (lengths > 0)
        content = ((lengths / speed).ceil() + gaps).sum(1)
        size = int((content.max().item() + RATE * (0.1 + slack * torch.rand(1).item())) // 4000 + 1) * 4000
        gaps[:, 0] = self.uniform(0.02, 1, count) * torch.minimum(size - content + gaps[:, 0] - 0.04 * RATE, gaps[:, 0] + 0.6 * RATE)
        wave = self.gather(starts, lengths, gaps, speed, size)
        level = self.level(wave)
        level = torch.where(level < 1e-4, torch.full_like(level, 0.05), level)
        wave = wave / level

        babble = wave.roll(1, 0) * 10 ** (-self.uniform(6, 22, count, 1) / 20) * self.chance(0.06, count)
        wet = self.rooms[self.pick(len(self.rooms), count)]
        padded = size + 8000
        rooms = torch.where(self.chance(0.5 * s, count), torch.fft.rfft(wet, padded), torch.ones(1, 1, device=self.device, dtype=torch.complex64))
        wave = torch.fft.irfft(torch.fft.rfft(wave + babble, padded) * rooms, padded)[:, :size]

        noise = self.noise_for(count, size, 0.6)
        noise = noise / (noise.square().mean(1, keepdim=True).sqrt() + 1e-4)
        other = self.noise_for(count, size, 0.5)
        noise = noise + other * self.chance(0.3, count) * self.uniform(0, 1, count, 1) / (other.square().mean(1, keepdim=True).sqrt() + 1e-4)
        snr = torch.where(self.chance(0.12, count), torch.full((count, 1), 70.0, device=self.device), self.uniform(20 - 25 * s, 25, count, 1))
        floor = torch.randn(count, size, device=self.device, generator=self.random) * 10 ** (-self.uniform(25, 65, count, 1) / 20)
        wave = self.colour(wave + self.colour(noise, 3) * 10 ** (-snr / 20) + floor, 4)

        wave = wave / self.level(wave).clamp_min(1e-4) * 10 ** (self.uniform(-40, -12, count, 1) / 20)
        drive = torch.where(self.chance(0.05, count), self.uniform(2, 8, count, 1), torch.ones(count, 1, device=self.device))
        wave = (wave * drive).clamp(-1, 1) / drive
        hop = 160 if torch.rand(1).item() < 0.5 else int(torch.randint(146, 178, (1,)))
        chosen = torch.where(self.chance(0.6 * s, count)[:, 0], self.pick(33, count), torch.full((count,), 33, device=self.device))
        return self.mask(self.log_mel(wave, hop, self.warps[chosen]))

    def plain(self, starts, lengths, snr=None):
        """For watching: no changes, margins of 0.2 s at least, optional made-up noise."""
        count = len(starts)
        starts, lengths = torch.from_numpy(starts).to(self.device), torch.from_numpy(lengths).to(self.device)
        size = (int(lengths.sum(1).max()) + 6400) // 4000 * 4000 + 4000
        ones = torch.ones(count, 1, device=self.device)
        wave = self.gather(starts, lengths, torch.full(lengths.shape, 3200.0, device=self.device), ones, size)
        noise = self.noise_for(count, size, 0.0) if snr is not None else torch.randn_like(wave)
        noise = noise / noise.square().mean(1, keepdim=True).sqrt()
        wave = wave + noise * self.level(wave) * 10 ** (-(60 if snr is None else snr) / 20)
        return self.log_mel(wave, 160, self.warps[33:].expand(count, -1, -1))
