using System.Text;

namespace Acquire.Instruments.Lines.Matching;

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

/// <summary>One or more blanks; before a number whose plus is a blank, the minus may stand in the place of the only one.</summary>
internal sealed class BlanksStep(bool orMinus = false) : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var start = at;
        while (at < line.Length && IsBlank(line[at]))
        {
            at++;
        }

        return at > start || (orMinus && at < line.Length && line[at] == '-') || match.Miss(at, "a blank");
    }
}
