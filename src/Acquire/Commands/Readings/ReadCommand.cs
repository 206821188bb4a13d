using Acquire.Bench.Books;
using Acquire.Bench.Readings;
using Acquire.Commands.Strips;
using Acquire.Instruments.Links;
using Acquire.Terminal;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire read</c>: a guided reading of one control strip.</summary>
internal static class ReadCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var options = new ReadingOptions(surroundings);
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
        command.SetAction((parsed, cancellationToken) => options.ReadAsync(
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
                var asked = await StripPrompts.AnswerAsync(
                    new StripAsked(request, options.Instrument.Choice(parsed)), place.Store, surroundings, cancellationToken);
                var terms = await options.TermsAsync(parsed, asked.Instrument, place, cancellationToken);
                return await place.Desk.ReadAsync(asked.Request, terms, place.TakeSeat(), cancellationToken);
            },
            cancellationToken));
        return command;
    }
}

/// <summary><c>acquire resume</c>: goes on with a session that was broken off, whatever it reads.</summary>
internal static class ResumeCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = new Argument<string?>("id")
        {
            Description = "The session, or enough of its end to tell it from others; the newest that was broken off when not given.",
            HelpName = "ID",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var options = new ReadingOptions(surroundings);
        var command = new Command("resume", "Go on with a reading that was broken off, at the same patch and read.") { id };
        options.AddToResume(command);
        command.SetAction((parsed, cancellationToken) => options.ReadAsync(
            parsed,
            place => place.Desk.ResumeAsync(
                parsed.GetValue(id),
                options.PortNow(parsed) is { } port ? LinkAddress.Parse(port) : null, place.TakeSeat(), cancellationToken),
            cancellationToken));
        return command;
    }
}
