namespace Acquire.Instruments.Lines;

/// <summary>A density that takes as many characters as it needs.</summary>
internal sealed class ValueStep(int slot, NumberReader numbers) : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (numbers.MarkAt(line[at..]) is > 0 and var markLength)
        {
            at += markLength;
            match.SetBeyond(slot);
            return true;
        }

        if (numbers.Read(line, ref at, padded: false, out var value) is { } expected)
        {
            return match.Miss(at, expected);
        }

        match.Set(slot, value);
        return true;
    }
}

/// <summary>A density in a field of fixed width, set against its left or right side and padded with blanks.</summary>
internal sealed class FixedValueStep(int slot, int width, NumberReader numbers) : MatchStep
{
    private readonly string _tooShort = string.Create(CultureInfo.InvariantCulture, $"a density in {width} characters");
    private readonly string _loose = string.Create(
        CultureInfo.InvariantCulture, $"a density against the left or right side of its {width} characters");

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (!TryField(line, at, width, out var field))
        {
            return match.Miss(line.Length, _tooShort);
        }

        var lead = field.Length - field.TrimStart((byte)' ').Length;
        var trail = field.Length - field.TrimEnd((byte)' ').Length;
        // One blank before a left-justified number may be its sign; more means that the columns have shifted.
        if (lead == width || (lead > 1 && trail > 0))
        {
            return match.Miss(at, _loose);
        }

        if (!FieldReader.Take(field[lead..^trail], slot, numbers, padded: true, at + lead, ref match))
        {
            return false;
        }

        at += width;
        return true;
    }
}
