using System.Text;

namespace Acquire.Instruments.Lines;

/// <summary>Characters that stand on the line exactly so.</summary>
internal sealed class LiteralStep(string text) : MatchStep
{
    private readonly byte[] _bytes = Encoding.Latin1.GetBytes(text);
    private readonly string _expected = $"'{text}'";

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var same = line[at..].CommonPrefixLength(_bytes);
        if (same < _bytes.Length)
        {
            return match.Miss(at + same, _expected);
        }

        at += same;
        return true;
    }
}

/// <summary>One or more blanks; before a number whose plus is a blank, a minus or a mark may stand in the place of the only one.</summary>
/// <param name="signOf">How the number that follows is written, where its plus is a blank; otherwise null.</param>
internal sealed class BlanksStep(NumberReader? signOf = null) : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var start = at;
        while (at < line.Length && IsBlank(line[at]))
        {
            at++;
        }

        return at > start || TakesPlace(line[at..]) || match.Miss(at, "a blank");
    }

    private bool TakesPlace(ReadOnlySpan<byte> rest) => signOf is not null && (rest is [(byte)'-', ..] || signOf.MarkAt(rest) > 0);
}
