using System.Buffers.Binary;
using System.Numerics;

namespace Companion.Journal.Disk;

/// <summary>CRC-32C (Castagnoli, RFC 3720), by the processor's own instruction where it has one. Pure; any thread.</summary>
public static class Crc32C
{
    /// <summary>The checksum of some bytes.</summary>
    public static uint Of(ReadOnlySpan<byte> bytes)
    {
        var crc = uint.MaxValue;
        while (bytes.Length >= sizeof(ulong))
        {
            crc = BitOperations.Crc32C(crc, BinaryPrimitives.ReadUInt64LittleEndian(bytes));
            bytes = bytes[sizeof(ulong)..];
        }

        foreach (var b in bytes)
        {
            crc = BitOperations.Crc32C(crc, b);
        }

        return ~crc;
    }
}
