namespace Acquire.Instruments.Lines;

/// <summary>Reads a density, or a mark in its place, that must fill a whole field.</summary>
internal static class FieldReader
{
    public static bool Take(ReadOnlySpan<byte> field, int slot, NumberReader numbers, bool padded, int offset, ref LineMatch match)
    {
        if (numbers.MarkAt(field) == field.Length && field.Length > 0)
        {
            match.SetBeyond(slot);
            return true;
        }

        var at = 0;
        if (numbers.Read(field, ref at, padded, out var value) is { } expected)
        {
            return match.Miss(offset + at, expected);
        }

        if (at < field.Length)
        {
            return match.Miss(offset + at, "the end of the number");
        }

        match.Set(slot, value);
        return true;
    }
}
