"""Cut lists of whole orders."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('materials', '0009_orders_and_prices'),
        ('projects', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='cutlist',
            name='cut_list_of_house_or_day',
        ),
        migrations.AddField(
            model_name='cutlist',
            name='order',
            field=models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='materials.purchaseorder'),
        ),
        migrations.AddConstraint(
            model_name='cutlist',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('day__isnull', True), ('house__isnull', False), ('order__isnull', True)), models.Q(('day__isnull', False), ('house__isnull', True), ('order__isnull', True)), models.Q(('day__isnull', True), ('house__isnull', True), ('order__isnull', False)), _connector='OR'), name='cut_list_of_one_thing'),
        ),
    ]
