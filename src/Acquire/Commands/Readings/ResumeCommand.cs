using Acquire.Instruments.Links;

namespace Acquire.Commands.Readings;

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
                parsed.GetValue(id), options.Port(parsed) is { } port ? LinkAddress.Parse(port) : null, place.Seat, cancellationToken),
            cancellationToken));
        return command;
    }
}
