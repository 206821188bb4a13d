using Acquire.Bench.Books;
using Acquire.Commands.Strips;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire read</c>: a guided reading of one control strip.</summary>
internal static class ReadCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var options = new ReadingOptions(surroundings, required: true);
        var about = new StripTagOptions();
        var ranAt = new Option<string?>("--ran-at")
        {
            Description = "When the strip ran in the developer, if not about now, such as \"yesterday 21:00\"; the books count by it.",
            HelpName = "TIME",
        };
        var require = CheckRequireCommand.Option();
        var command = new Command("read", "Read a control strip, guided patch by patch, and judge it.") { ranAt, require };
        options.AddTo(command);
        about.AddTo(command);
        command.SetAction((parsed, cancellationToken) =>
        {
            var terms = options.Terms(parsed);
            return options.ReadAsync(
                parsed,
                async place =>
                {
                    var request = await about.OfAsync(parsed, place.Store, cancellationToken) with
                    {
                        RanAt = parsed.GetValue(ranAt) is { } when
                            ? EntryTime.Parse(when, surroundings.Time.GetUtcNow(), surroundings.Time.LocalTimeZone)
                            : null,
                        RequireCheck = CheckRequireCommand.InForce(parsed, require),
                    };
                    return await place.Desk.ReadAsync(request, terms, place.Seat, cancellationToken);
                },
                cancellationToken);
        });
        return command;
    }
}
