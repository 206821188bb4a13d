using System.Buffers.Binary;
using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>UUIDs v7 whose chance comes from a seed, so that the same history has the same ids (RFC 9562, 5.7).</summary>
internal sealed class HistoryIds(int seed)
{
    private const long Stream = 7_000_001;

    private readonly SeededChance _chance = new(seed, Stream);

    /// <summary>The next id, made at a moment.</summary>
    public Guid Next(DateTimeOffset at)
    {
        Span<byte> bytes = stackalloc byte[16];
        BinaryPrimitives.WriteInt64BigEndian(bytes, at.ToUnixTimeMilliseconds() << 16);
        for (var i = 6; i < bytes.Length; i++)
        {
            bytes[i] = (byte)_chance.Below(256);
        }

        bytes[6] = (byte)(0x70 | (bytes[6] & 0x0F));
        bytes[8] = (byte)(0x80 | (bytes[8] & 0x3F));
        return new Guid(bytes, bigEndian: true);
    }
}
