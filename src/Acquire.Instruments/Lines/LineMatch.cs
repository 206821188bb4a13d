using System.Runtime.CompilerServices;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>What one rule made of one line: densities by slot, or where and why it does not
/// fit. A value type, so that matching allocates nothing.</summary>
internal struct LineMatch
{
    /// <summary>The slot of a value whose channel follows from the order of lines; the other slots are the channels.</summary>
    public const int NextSlot = 4;

    private Slots _values;
    private byte _present;
    private byte _beyond;

    /// <summary>What was expected at <see cref="Offset"/>; null when the line fits.</summary>
    public string? Expected { get; private set; }

    /// <summary>The offset in bytes of the first misfit.</summary>
    public int Offset { get; private set; }

    public readonly bool Fits => Expected is null;

    public readonly bool AnyBeyond => _beyond != 0;

    public readonly bool Any => _present != 0;

    public readonly bool Has(int slot) => (_present & (1 << slot)) != 0;

    public readonly bool IsBeyond(int slot) => (_beyond & (1 << slot)) != 0;

    public readonly Density Density(int slot) => new(_values[slot]);

    /// <summary>Keeps a density; false where the line gave another for the same slot before.</summary>
    public bool Set(int slot, decimal value)
    {
        if (Has(slot))
        {
            return !IsBeyond(slot) && _values[slot] == value;
        }

        _values[slot] = value;
        _present |= (byte)(1 << slot);
        return true;
    }

    /// <summary>Notes a mark in a density's place; false where the line gave a density for the same slot before.</summary>
    public bool SetBeyond(int slot)
    {
        var agrees = !Has(slot) || IsBeyond(slot);
        _present |= (byte)(1 << slot);
        _beyond |= (byte)(1 << slot);
        return agrees;
    }

    /// <summary>Notes the misfit; always false, so that a step can return it.</summary>
    public bool Miss(int offset, string expected)
    {
        (Offset, Expected) = (offset, expected);
        return false;
    }

    // A place for each channel and one for a value without a label; no array, as every line is held against every rule.
    [InlineArray(NextSlot + 1)]
    private struct Slots
    {
        private decimal _first;
    }
}

/// <summary>Tries one rule on one line.</summary>
internal interface ILineMatcher
{
    /// <summary>Never throws and takes time in proportion to the line's length.</summary>
    LineMatch Match(ReadOnlySpan<byte> line);
}

/// <summary>The rules of a profile, compiled.</summary>
internal static class RuleMatchers
{
    /// <exception cref="ArgumentException">A rule has neither template nor pattern, or its pattern is no regular expression.</exception>
    public static ImmutableArray<ILineMatcher> Compile(DeviceProfile profile) =>
        [.. profile.Rules.Select(r => Compile(r, profile.Number))];

    private static ILineMatcher Compile(LineRule rule, NumberFormat number) => rule switch
    {
        { Template: { } template } => new TemplateMatcher(template, number),
        { Pattern: { } pattern } => new PatternMatcher(pattern, number),
        _ => throw new ArgumentException("A line rule needs a template or a pattern.", nameof(rule)),
    };
}
