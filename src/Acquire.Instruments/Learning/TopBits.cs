using System.Numerics;

namespace Acquire.Instruments.Learning;

/// <summary>What the top bit of the bytes carries.</summary>
internal enum TopBit
{
    /// <summary>Nothing, or the upper half of an eight-bit character set.</summary>
    Data,

    /// <summary>Even parity.</summary>
    Even,

    /// <summary>Odd parity.</summary>
    Odd,

    /// <summary>Always set.</summary>
    Mark,
}

/// <summary>Finds out what the top bit carries: seven-bit text received as eight bits shows its parity there.</summary>
internal static class TopBits
{
    public static TopBit Of(ReadOnlySpan<byte> bytes)
    {
        var (any, all, even, odd) = (false, true, true, true);
        foreach (var b in bytes)
        {
            var top = b >= 0x80;
            any |= top;
            all &= top;
            even &= BitOperations.PopCount(b) % 2 == 0;
            odd &= BitOperations.PopCount(b) % 2 == 1;
        }

        return !any ? TopBit.Data : all ? TopBit.Mark : even ? TopBit.Even : odd ? TopBit.Odd : TopBit.Data;
    }

    /// <summary>The bytes without what the top bit carries besides the text.</summary>
    public static byte[] Plain(ReadOnlySpan<byte> bytes, TopBit carries)
    {
        var plain = bytes.ToArray();
        for (var i = 0; carries != TopBit.Data && i < plain.Length; i++)
        {
            plain[i] &= 0x7F;
        }

        return plain;
    }
}
