using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>A compiled template: one pass over the bytes, no way back, nothing allocated.</summary>
internal sealed class TemplateMatcher(LineTemplate template, NumberFormat number) : ILineMatcher
{
    private readonly ImmutableArray<MatchStep> _steps = Compile(template.Parts, new NumberReader(number));

    // The blanks at either end of the line belong to a place of fixed width when one stands there.
    private readonly bool _keepsLeadingBlanks = template.Parts is [var first, ..] && Opens(first);

    public LineMatch Match(ReadOnlySpan<byte> line) => Match(line, []);

    /// <summary>The same, and notes where on the line each part of the template stood.</summary>
    /// <param name="taken">As many as the template has parts; none where nobody asks.</param>
    public LineMatch Match(ReadOnlySpan<byte> line, Span<Range> taken)
    {
        var match = default(LineMatch);

        // The half of a terminator that the profile does not name is no content: CR LF from an instrument whose profile says CR.
        line = line.TrimEnd("\r\n"u8);
        var at = line.Length - line.TrimStart(_keepsLeadingBlanks ? "\r\n"u8 : "\r\n \t"u8).Length;
        // First fit, no second try: what a template takes must not depend on what stands further on, or one garbled line could be
        // read in two ways.
        for (var i = 0; i < _steps.Length; i++)
        {
            var from = at;
            if (!_steps[i].Take(line, ref at, ref match))
            {
                return match;
            }

            if (i < taken.Length)
            {
                taken[i] = from..at;
            }
        }

        at = line.Length - line[at..].TrimStart(" \t"u8).Length;
        if (at < line.Length)
        {
            match.Miss(at, "the end of the line");
        }

        return match;
    }

    private static bool Opens(TemplatePart part) => part is TemplatePart.Literal { Text: [' ' or '\t', ..] }
        or TemplatePart.ChannelValue { Width: not null } or TemplatePart.NextValue { Width: not null }
        or TemplatePart.Word { Width: not null } or TemplatePart.Number { Width: not null };

    private static bool IsOpenNumber(TemplatePart part) => part is TemplatePart.ChannelValue { Width: null }
        or TemplatePart.NextValue { Width: null } or TemplatePart.Number { Width: null };

    private static ImmutableArray<MatchStep> Compile(ImmutableArray<TemplatePart> parts, NumberReader numbers)
    {
        var steps = ImmutableArray.CreateBuilder<MatchStep>(parts.Length);
        for (var i = 0; i < parts.Length; i++)
        {
            var afterBlank = i + 1 < parts.Length && parts[i + 1] is TemplatePart.Blanks;
            var next = Literal(parts, i + 1);
            steps.Add(parts[i] switch
            {
                TemplatePart.Literal literal => new LiteralStep(literal.Text),
                TemplatePart.Blanks =>
                    new BlanksStep(numbers.BlankForPlus && i + 1 < parts.Length && IsOpenNumber(parts[i + 1]) ? numbers : null),
                TemplatePart.ChannelValue { Width: { } width } value => new FixedValueStep((int)value.Channel, width, numbers),
                TemplatePart.ChannelValue value => new ValueStep((int)value.Channel, numbers),
                TemplatePart.NextValue { Width: { } width } => new FixedValueStep(LineMatch.NextSlot, width, numbers),
                TemplatePart.NextValue => new ValueStep(LineMatch.NextSlot, numbers),
                TemplatePart.Word { Width: { } width } => new FixedFillerStep(width, isNumber: false),
                TemplatePart.Word => new WordStep(next),
                TemplatePart.Number { Width: { } width } => new FixedFillerStep(width, isNumber: true),
                TemplatePart.Number => new PlainNumberStep(next),
                TemplatePart.Letter => new LetterStep(),
                TemplatePart.Leader => new LeaderStep(),
                TemplatePart.Skip => new SkipStep(afterBlank ? Literal(parts, i + 2) : next, afterBlank),
                var part => throw new ArgumentException($"{part} is no part of a template.", nameof(parts)),
            });
        }

        return steps.DrainToImmutable();
    }

    private static string Literal(ImmutableArray<TemplatePart> parts, int index) =>
        index < parts.Length && parts[index] is TemplatePart.Literal literal ? literal.Text : "";
}
