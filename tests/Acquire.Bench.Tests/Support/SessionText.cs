using System.Text;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Tests.Support;

/// <summary>The whole state of a session as text, so that two can be compared and a difference can be read.</summary>
internal static class SessionText
{
    public static string Of(GuidedStrip strip, IEnumerable<ReceivedLine> lines)
    {
        var text = new StringBuilder();
        foreach (var (sequence, line, meaning) in lines)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{sequence} {line.ReceivedAt:O} {meaning} {line.Text}");
        }

        // What undo would do is part of the state: it is taken back to the beginning.
        Append(text, strip);
        while (strip.CanUndo)
        {
            strip = strip.Undo(Some.Moment);
            Append(text, strip);
        }

        return text.ToString();
    }

    public static string Of(QuestionLog questions) => string.Join(
        '\n', questions.All.Select(
            q => FormattableString.Invariant($"{DecisionJson.Of(new BenchCommand.Ask(q.Asked, 0))} {q.At:O} {q.State} {q.AnsweredAt:O}")));

    private static void Append(StringBuilder text, GuidedStrip strip)
    {
        text.AppendLine(CultureInfo.InvariantCulture, $"next {strip.Next}, last {strip.LastRead?.Target}");
        foreach (var patch in strip.Patches)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{patch.Patch.Key} {patch.LeftOut}");
            foreach (var read in patch.Reads)
            {
                var lines = string.Join(" | ", read.Reading.Lines.Select(l => $"{l.ReceivedAt:O} {l.Text}"));
                text.AppendLine(
                    CultureInfo.InvariantCulture, $"  {read.Reading.Densities} {read.Reading.At:O} {read.Exclusion} {read.Note} {lines}");
            }
        }
    }
}
