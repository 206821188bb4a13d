using Acquire.Bench.Readings;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire lot recheck</c>: reads the reference strip again, to see whether the instrument has moved.</summary>
internal static class LotRecheckCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var options = new ReadingOptions(surroundings);
        var command = new Command(
            "recheck",
            "Read the reference strip again and hold it against its first readings; without --port, show what was read. The aims stay.")
        {
            code,
        };
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var lot = parsed.GetRequiredValue(code);
            switch (options.Port(parsed), options.Profile(parsed))
            {
                case (null, null):
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        return options.Kept(
                            parsed,
                            await new Rechecks(store, Common.Lots(parsed, store, surroundings)).ReviewAsync(lot, cancellationToken));
                    }

                case ({ }, { }):
                    var terms = options.Terms(parsed);
                    return await options.ReadAsync(
                        parsed,
                        place => place.Desk.ReadAsync(new RecheckRequest(lot), terms, place.Seat, cancellationToken), cancellationToken);
                default:
                    throw new BenchException(
                        "Give both --port and --profile to read the reference strip again, or neither to show what was read.");
            }
        });
        return command;
    }
}
