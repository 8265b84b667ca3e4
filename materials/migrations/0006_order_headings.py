"""An issued order keeps what stands on it beside its lines; one that was issued before goes by its rows."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("materials", "0005_cut_lists"),
    ]

    operations = [
        migrations.AddField(
            model_name="purchaseorder",
            name="heading",
            field=models.JSONField(blank=True, default=dict),
        ),
    ]
