using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Tells the answer to an identify command from other lines, and reads it.</summary>
public sealed class AnswerMatcher(IdentifyCommand identify, NumberFormat number)
{
    private readonly TemplateMatcher _matcher = new(identify.Answer, number);

    /// <summary>What the line says the instrument is; null when it is no such answer. Never throws.</summary>
    public InstrumentIdentity? Match(ReadOnlySpan<byte> line)
    {
        var parts = identify.Answer.Parts;
        var taken = new Range[parts.Length];
        if (!_matcher.Match(line, taken).Fits)
        {
            return null;
        }

        var said = new Dictionary<string, string>();
        for (var i = 0; i < parts.Length; i++)
        {
            if (parts[i] is TemplatePart.Word { Name: { } name })
            {
                said[name] = RawLine.Printable(line[taken[i]]).Trim();
            }
        }

        return InstrumentIdentity.Of(said.GetValueOrDefault);
    }
}
