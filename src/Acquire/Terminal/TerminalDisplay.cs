using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;

namespace Acquire.Terminal;

/// <summary>
/// Shows a guided reading. At a terminal the next patch stands in letters that are read from a few steps away; in a log every update
/// is one line.
/// </summary>
internal sealed class TerminalDisplay(IAnsiConsole console, bool bell, bool atTerminal, TimeProvider time) : IBenchDisplay
{
    private const string Bell = "\a";

    public void Show(BenchUpdate update)
    {
        switch (update)
        {
            case BenchUpdate.Notice { Text: var text }:
                console.Line(text);
                break;
            case BenchUpdate.BrokenOff brokenOff:
                ShowUnfinished(brokenOff);
                break;
            case BenchUpdate.Resumed resumed:
                ShowResumed(resumed);
                break;
            case BenchUpdate.Prompt { Target: var target, IsFirst: var isFirst }:
                ShowPrompt(target, isFirst);
                break;
            case BenchUpdate.Accepted { Target: var target, Densities: var densities }:
                Ring(1);
                console.Line($"  taken: {target.Patch.Name}, read {target.Read} of {target.Of}: {densities}");
                break;
            case BenchUpdate.Attention { Message: var message }:
                Ring(2);
                console.Line($"  ? {message}");
                break;
            case BenchUpdate.Question question:
                ShowQuestion(question);
                break;
            case BenchUpdate.Remark { Meaning: var meaning, Text: { Length: > 0 } text }:
                console.Line($"  ({meaning.Word()}: {text})");
                break;
            case BenchUpdate.Done { Message: var message }:
                console.Line($"  {message}");
                break;
            case BenchUpdate.Link { Condition: LinkCondition.Connected } link:
                console.Line($"  {link.Message}");
                foreach (var notice in link.Notices)
                {
                    console.Line($"  {notice}");
                }

                break;
            case BenchUpdate.Link { Condition: LinkCondition.Gone, Message: var message }:
                Ring(2);
                console.Line($"  {message} What was read is kept; reading goes on here when it is back.");
                break;
            case BenchUpdate.Link { Message: var message }:
                console.Line($"  {message}");
                break;
            case BenchUpdate.AllRead { KeptIn: { } limit }:
                console.Line("");
                console.Line(
                    $"All patches are read. The strip is kept in {limit.TotalSeconds:0} s, or at once with Enter; "
                    + "u takes the last step back.");
                break;
            case BenchUpdate.AllRead:
                console.Line("All patches are read.");
                break;
            default:
                break;
        }
    }

    private void ShowUnfinished(BenchUpdate.BrokenOff brokenOff)
    {
        var id = SessionWords.ShortId(brokenOff.Session);
        console.Line(
            $"A session ({brokenOff.Reads}, begun {Numbers.Moment(brokenOff.BegunAt, time)}, {Numbers.Count(brokenOff.Lines, "line")}) "
            + $"was broken off. Go on with it: acquire resume {id}; or end it: acquire session discard {id}");
    }

    private void ShowResumed(BenchUpdate.Resumed resumed)
    {
        console.Line(
            "The session goes on where it was broken off; "
            + $"{Numbers.Count(resumed.Reads, "read")} {(resumed.Reads == 1 ? "is" : "are")} taken.");
        if (resumed is { Last: { } target, Densities: { } densities })
        {
            console.Line($"  last: {target.Patch.Name}, read {target.Read} of {target.Of}: {densities}");
        }

        if (resumed.Unfinished is { } cut)
        {
            console.Line($"  ? A line was cut when the session broke off: '{cut}'. It is kept, not guessed at.");
        }
    }

    private void ShowPrompt(ReadTarget target, bool isFirst)
    {
        var place = $"read {target.Read} of {target.Of}, patch {target.Position} of {target.Patches}";
        if (!atTerminal)
        {
            console.Line($"next: {target.Patch.Name}, {place}{(target.Still ? ", without moving it" : "")}");
            return;
        }

        console.Line("");
        console.Write(new FigletText($"{target.Patch.Name}   {target.Read}/{target.Of}"));
        var action = target.Still
            ? "Leave the patch where it is and read"
            : target.Read > 1 ? "Lift the strip, place it anew and read" : "Place the patch and read";
        console.Line($"  {action}: {target.Patch.Name}, {place}");
        if (isFirst)
        {
            console.Line($"  {KeyboardCommands.Help}");
        }
    }

    /// <summary>The question, and what each key does; in a log it is answered by nobody.</summary>
    private void ShowQuestion(BenchUpdate.Question question)
    {
        Ring(2);
        if (!atTerminal)
        {
            console.Line($"  ? {question.Text} Proposed: {question.Remedy}. Nobody is at a keyboard: nothing is changed, and the "
                + "question stays with the strip.");
            return;
        }

        console.Line("");
        console.Write(new Text($"  ? {question.Text}", new Style(decoration: Decoration.Bold)));
        console.Line("");
        console.Line($"    y  yes: {question.Remedy}");
        console.Line("    n  no: leave it as it was read");
        if (question.Next is { } next)
        {
            console.Line($"    or go on with {next.Patch.Name}, read {next.Read} of {next.Of}, and leave the question open");
        }
    }

    private void Ring(int times)
    {
        for (var i = 0; bell && i < times; i++)
        {
            console.Profile.Out.Writer.Write(Bell);
        }
    }
}
