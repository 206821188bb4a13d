namespace KillTrials;

/// <summary>Kills the program while it brings an old store to its own version, and while it makes a backup.</summary>
public sealed class CopyTrials(string folder, int seed)
{
    private readonly Random _dice = new(seed);

    /// <summary>How long an undisturbed run takes; kills fall on its later part and a little beyond.</summary>
    private TimeSpan _usual;

    /// <summary>Opens an old store at least so many times; what was killed is opened once more, undisturbed, now and then.</summary>
    public async Task<Tally> UpgradeAsync(int runs, CancellationToken cancellationToken)
    {
        var tally = new Tally("upgrade");
        var old = Path.Combine(folder, "old", "acquire.db");
        OldStore.Make(old);
        await MeasureAsync(Path.Combine(folder, "old"), cancellationToken, "session", "list");
        OldStore.Make(old);
        while (!tally.IsEnough(runs))
        {
            var data = Directory.CreateDirectory(Path.Combine(folder, $"upgrade-{tally.Runs}")).FullName;
            var database = Path.Combine(data, "acquire.db");
            File.Copy(old, database);
            await RunAsync(tally, data, cancellationToken, "session", "list");
            var look = await StoreLook.AtAsync(database, tally, cancellationToken);
            OldStore.Compare(look, "the store", tally);
            tally.Finished += look.Version > OldStore.Version ? 1 : 0;
            foreach (var backup in Directory.GetFiles(data, "acquire-before-upgrade-*.db"))
            {
                OldStore.Compare(await StoreLook.AtAsync(backup, tally, cancellationToken), "the backup", tally);
            }

            var again = await VictimProgram.RunAsync(data, null, cancellationToken, "session", "list", "--json");
            tally.Demand(again.Code == 0, $"cannot be opened any more: {string.Join(" / ", again.Error)}");
            OldStore.Compare(await StoreLook.AtAsync(database, tally, cancellationToken), "the upgraded store", tally);
            var verified = await VictimProgram.RunAsync(data, null, cancellationToken, "verify");
            tally.Demand(verified.Code == 0, "does not verify after an upgrade that was cut off");
            Directory.Delete(data, recursive: true);
        }

        return tally;
    }

    /// <summary>Backs a store up at least so many times.</summary>
    public async Task<Tally> BackUpAsync(int runs, CancellationToken cancellationToken)
    {
        var tally = new Tally("backup");
        var data = Path.Combine(folder, "backed-up");
        var database = Path.Combine(data, "acquire.db");
        OldStore.Make(database);
        await MeasureAsync(data, cancellationToken, "backup", Path.Combine(folder, "first-backup.db"));
        while (!tally.IsEnough(runs))
        {
            var target = Path.Combine(folder, $"backup-{tally.Runs}.db");
            await RunAsync(tally, data, cancellationToken, "backup", target);
            OldStore.Compare(await StoreLook.AtAsync(database, tally, cancellationToken), "the store", tally);
            if (File.Exists(target))
            {
                tally.Finished++;
                OldStore.Compare(await StoreLook.AtAsync(target, tally, cancellationToken), "the backup", tally);
            }
        }

        return tally;
    }

    private async Task MeasureAsync(string data, CancellationToken cancellationToken, params string[] arguments) =>
        _usual = (await VictimProgram.RunAsync(data, null, cancellationToken, arguments)).Took;

    private async Task RunAsync(Tally tally, string data, CancellationToken cancellationToken, params string[] arguments)
    {
        var run =
            await VictimProgram.RunAsync(data, KillAt.After(_usual * (0.3 + (_dice.NextDouble() * 1.5))), cancellationToken, arguments);
        tally.Runs++;
        tally.Killed += run.Code is null ? 1 : 0;
        tally.Finished += run.Code == 0 ? 1 : 0;
        if (run.Code is 0)
        {
            _usual = (_usual + run.Took) / 2;
        }

        tally.Demand(run.Code is null or 0, $"exit code {run.Code}: {string.Join(" / ", run.Error.TakeLast(3))}");
    }
}
