"""Of which materials strips may be spliced."""


import django.db.models.deletion
import django.db.models.functions.text
import django.db.models.lookups
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('materials', '0010_order_cut_lists'),
        ('projects', '0002_windows_by_record'),
    ]

    operations = [
        migrations.CreateModel(
            name='SpliceRule',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('material', models.CharField(max_length=64)),
                ('lap_nm', models.BigIntegerField()),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
            ],
            options={
                'ordering': ['material'],
                'constraints': [models.UniqueConstraint(fields=('company', 'material'), name='splice_rule_once'), models.CheckConstraint(condition=models.Q(('lap_nm__gte', 101600000)), name='splice_rule_lap'), models.CheckConstraint(condition=models.Q(django.db.models.lookups.GreaterThanOrEqual(django.db.models.functions.text.Length('material'), 1), django.db.models.lookups.LessThanOrEqual(django.db.models.functions.text.Length('material'), 64)), name='splice_rule_material_length')],
            },
        ),
    ]
