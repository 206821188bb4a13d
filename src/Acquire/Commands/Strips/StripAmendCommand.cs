using Acquire.Bench.Strips;
using Acquire.Rendering.Strips;

namespace Acquire.Commands.Strips;

/// <summary><c>acquire strip amend</c>: a correction of a record, as a new revision.</summary>
internal static class StripAmendCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = StripCommand.Id();
        var reason = new Option<string>("--reason") { Description = "Why; kept with the revision.", HelpName = "WHY", Required = true };
        var lot = Given.Option<string?>(
            "--lot", "CODE", "The lot it is really of; judged anew by that lot's reference in force when the strip was read.");
        (TextTag Text, Option<string?> Option)[] texts = [.. StripTags.Texts.Select(
            t => (t, StripTagOptions.Option(t, "; \"\" to take it out.")))];
        var exclude = new Option<string[]>("--exclude")
        {
            Description = "A read that does not count, with the reason, e.g. \"hd 2: scratch\"; without a number the whole patch. "
                + "More than once for more.",
            HelpName = "\"PATCH [N]: WHY\"",
        };
        var include = Given.Option<string[]>("--include", "\"PATCH [N]\"", "A read or patch that counts again, e.g. \"hd 2\".");
        var by = Common.By();
        var json = Common.Json();
        var command = new Command(
            "amend",
            "Correct a strip record: a new revision, the old ones stay. It keeps the aims it was judged by unless its lot changes.")
        {
            id, reason, lot,
        };
        foreach (var option in (Option[])[.. texts.Select(t => t.Option), exclude, include, by, json])
        {
            command.Options.Add(option);
        }

        command.SetAction(async (parsed, cancellationToken) =>
        {
            var amendment = new StripAmendment(parsed.GetRequiredValue(reason), parsed.GetValue(by) ?? surroundings.User)
            {
                Tags = before => texts.Aggregate(
                    before,
                    (tags, t) => parsed.GetValue(t.Option) is { } given ? t.Text.With(tags, given.Length == 0 ? null : given) : tags),
                Excluded = [.. (parsed.GetValue(exclude) ?? []).Select(Excluded)],
                Included = [.. (parsed.GetValue(include) ?? []).Select(Place)],
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var (before, after, judgement) = await StripCommand.Book(parsed, store, surroundings)
                .AmendAsync(new AmendRequest(parsed.GetRequiredValue(id), amendment, parsed.GetValue(lot)), cancellationToken);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, StripRevisionJson.Of(after, before));
                return ExitCode.Done;
            }

            StripHistoryReport.WriteRevision(surroundings.Out, after, before, surroundings.Time);
            surroundings.Out.Line("");
            StripReport.Write(surroundings.Out, after, judgement, surroundings.Time, json: false);
            return ExitCode.Done;
        });
        return command;
    }

    private static (ReadPlace Place, string Reason) Excluded(string text)
    {
        var parts = text.Split(':', 2, StringSplitOptions.TrimEntries);
        return parts is [{ Length: > 0 } place, { Length: > 0 } reason]
            ? (Place(place), reason)
            : throw new BenchException(
                $"Cannot read \"{text}\": expected a patch, the number of the read, a colon and the reason, such as \"hd 2: scratch\".");
    }

    private static ReadPlace Place(string text)
    {
        var words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return words switch
        {
            [] => throw new BenchException(
                "--include needs a patch, and the number of a read where only that read is meant, such as \"hd 2\"."),
            [.. var patch, var last] when patch.Length > 0
                && int.TryParse(last, NumberStyles.None, CultureInfo.InvariantCulture, out var number) =>
                new ReadPlace(string.Join(' ', patch), number),
            _ => new ReadPlace(string.Join(' ', words), null),
        };
    }
}
